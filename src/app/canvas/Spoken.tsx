import type { ReactElement } from 'react';
import { polylineLengthM } from '../../core/geometry';
import { ITEM_NOUNS, outlineEdge, outlinesOf, type Plan } from '../../core/plan';
import type { Printer } from '../../core/units';
import { type CornerRef, useDesk } from '../state/desk';
import { nameOf } from '../state/names';
import { usePrinter } from '../state/units';

/** What was chosen on the sketch last, spoken: who walks through things and corners by keyboard need not see it. */
export function Spoken(): ReactElement {
  const plan = useDesk((state) => state.history.plan);
  const selection = useDesk((state) => state.selection);
  const corner = useDesk((state) => state.corner);
  const printer = usePrinter();
  const [first] = selection;
  const things =
    selection.length > 1
      ? `${selection.length} things chosen`
      : first
        ? `${nameOf(plan, first)}, ${ITEM_NOUNS[first.map].toLowerCase()}`
        : '';
  return (
    <output className="unseen" aria-live="polite" aria-label="Chosen">
      {corner ? sayCorner(plan, corner, printer) : things}
    </output>
  );
}

function sayCorner(plan: Plan, corner: CornerRef, printer: Printer): string {
  const outline = outlinesOf(plan, corner.map, corner.id)[corner.ringIndex];
  const at = outline?.points[corner.pointIndex];
  if (!outline || !at) return '';
  const number = corner.pointIndex + 1;
  const item = nameOf(plan, corner);
  if (corner.part === 'edge')
    return `Edge ${number} of ${outline.edges.length} of ${item}, ${printer.length(polylineLengthM(outlineEdge(outline, corner.pointIndex)))}`;
  return `Corner ${number} of ${outline.points.length} of ${item}, east ${printer.length(at.x)}, north ${printer.length(at.y)}`;
}
