import type { Catalog } from '../core/catalog';
import type { Design, DesignedBed } from '../core/design';
import type { Plan, PlanPatch } from '../core/plan';
import type { Zone } from '../core/supply';

/**
 * What the window tells the worker. The worker keeps its own replica of the plan, so that unchanged beds keep their
 * identity and cost nothing. Requests are numbered by the window; the newest wins.
 */
export type Order =
  | { readonly kind: 'open'; readonly request: number; readonly plan: Plan }
  /** Kept: the replica moves on. */
  | { readonly kind: 'edit'; readonly request: number; readonly patches: readonly PlanPatch[] }
  /** The user's own parts were read: everything is designed again with this catalogue. */
  | { readonly kind: 'parts'; readonly request: number; readonly catalog: Catalog }
  /** A gesture under way: designed on top of the replica and forgotten. */
  | { readonly kind: 'try'; readonly request: number; readonly patches: readonly PlanPatch[] };

/** A part that did not change since the last parcel is named, not sent again. */
export type Sent<T> =
  | { readonly kind: 'same'; readonly id: string }
  | { readonly kind: 'new'; readonly item: T };

/** A design on its way to the window: the plan and the catalogue stay where they are. */
export interface DesignParcel {
  readonly beds: readonly Sent<DesignedBed>[];
  readonly zones: readonly Sent<Zone>[];
  readonly rest: Omit<Design, 'plan' | 'catalog' | 'beds' | 'supply'> & {
    readonly supply: Omit<Design['supply'], 'zones'>;
  };
}

/** What the worker answers. */
export type Reply =
  /** The tubing alone of the beds that were routed anew; the design that holds it follows. */
  | {
      readonly kind: 'routed';
      readonly request: number;
      readonly beds: readonly DesignedBed[];
      readonly tookMs: number;
    }
  | {
      readonly kind: 'designed';
      readonly request: number;
      readonly parcel: DesignParcel;
      readonly tookMs: number;
    }
  | { readonly kind: 'failed'; readonly request: number; readonly claim: string };
