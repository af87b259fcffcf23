import type { ReactElement } from 'react';
import { planToScreen, pointBetween, polylineLengthM } from '../../core/geometry';
import { type BedEdge, edgeClassSchema, outlineEdge, outlinesOf } from '../../core/plan';
import { ChoiceField } from '../parts/ChoiceField';
import { QuantityField } from '../parts/QuantityField';
import { shownPlan, useDesk } from '../state/desk';
import { sayEdgeClasses, sayEdgeOffsets, useEdgesAlong } from '../state/edges';
import { edit } from '../state/edit';
import { placeOf } from '../state/selection';
import { usePrinter } from '../state/units';
import { useView } from '../state/view';
import { EDGE_CLASS_NAMES } from '../wording';

/** Clear of the length, and of the words under it, that stand beside the edge. */
const BELOW_PX = 50;

/** What a bed's edge runs along, how far tubing keeps off it, and the arc of any edge, changed on the edge itself. */
export function EdgeSlip(): ReactElement | null {
  const corner = useDesk((state) => state.corner);
  const plan = useDesk(shownPlan);
  const view = useView((state) => state.view);
  const printer = usePrinter();
  const bed = corner?.part === 'edge' && corner.map === 'beds' ? plan.beds[corner.id] : undefined;
  const along = useEdgesAlong(bed);
  const outline =
    corner?.part === 'edge' ? outlinesOf(plan, corner.map, corner.id)[corner.ringIndex] : undefined;
  const edge = corner && outline?.edges[corner.pointIndex];
  if (!corner || !outline || !edge) return null;
  const own = bed?.rings[corner.ringIndex]?.edges[corner.pointIndex];
  const points = outlineEdge(outline, corner.pointIndex);
  const [from, to] = [points[0], points.at(-1)];
  if (!from || !to) return null;
  const middle =
    points.length > 2 ? (points[Math.floor(points.length / 2)] ?? from) : pointBetween(from, to, 0.5);
  const at = planToScreen(middle, view);
  const stretches = along?.[corner.ringIndex]?.[corner.pointIndex] ?? [];
  const change = (changes: Partial<BedEdge>): void => {
    edit({ name: 'set-edge', params: { ...placeOf(corner), changes } });
  };
  return (
    <section
      className="slip edge-slip"
      aria-label="Edge"
      style={{ transform: `translate(${at.x + 14}px, ${at.y + BELOW_PX}px)` }}
    >
      <h2>
        Edge {corner.pointIndex + 1}, {printer.length(polylineLengthM(points))}
      </h2>
      {own ? (
        <>
          <ChoiceField
            label="Runs along"
            value={own.class ?? ''}
            choices={[
              [
                '',
                own.class === null && stretches.length > 0
                  ? `as it lies: ${sayEdgeClasses(stretches)}`
                  : 'as it lies',
              ],
              ...edgeClassSchema.options.map((key) => [key, EDGE_CLASS_NAMES[key]] as const),
            ]}
            onChoose={(value) => change({ class: value === '' ? null : (value as BedEdge['class']) })}
          />
          <QuantityField
            label="Keep off"
            measure="spacing"
            value={own.offsetM}
            empty={
              own.offsetM === null && stretches.length > 0
                ? `as its kind: ${sayEdgeOffsets(stretches, printer)}`
                : 'as its kind'
            }
            onSet={(offsetM) => change({ offsetM })}
          />
        </>
      ) : null}
      <QuantityField
        label="Arc height"
        measure="length"
        value={edge.sagittaM === 0 ? null : edge.sagittaM}
        empty="straight"
        onSet={(sagittaM) => change({ sagittaM: sagittaM ?? 0 })}
      />
    </section>
  );
}
