import './strictPolicy';
import { type BedLayout, type LayoutInput, layoutBed } from '../core/layout';

/** One bed to route. */
export interface RouteJob {
  readonly number: number;
  readonly input: LayoutInput;
}

/** The route found, or the broken claim of the bug that kept it from being found. */
export type RouteAnswer =
  | { readonly kind: 'routed'; readonly number: number; readonly parts: readonly BedLayout[] }
  | { readonly kind: 'failed'; readonly number: number; readonly claim: string };

/** Routes one bed. A bug becomes an answer, so that the desk can say it. */
export function answerJob({ number, input }: RouteJob): RouteAnswer {
  try {
    return { kind: 'routed', number, parts: layoutBed(input) };
  } catch (error) {
    return { kind: 'failed', number, claim: String(error) };
  }
}
