import type { ReactElement } from 'react';
import { distanceM, planToScreen, pointBetween } from '../../core/geometry';
import { type BedEdge, edgeClassSchema } from '../../core/plan';
import { ChoiceField } from '../parts/ChoiceField';
import { QuantityField } from '../parts/QuantityField';
import { shownPlan, useDesk } from '../state/desk';
import { sayEdgeClasses, sayEdgeOffsets, useEdgesAlong } from '../state/edges';
import { edit } from '../state/edit';
import { usePrinter } from '../state/units';
import { useView } from '../state/view';
import { EDGE_CLASS_NAMES } from '../wording';
import { edgePoints } from './shape/outline';

/** What an edge runs along and how far tubing keeps off it, changed on the edge itself. */
export function EdgeSlip(): ReactElement | null {
  const corner = useDesk((state) => state.corner);
  const plan = useDesk(shownPlan);
  const view = useView((state) => state.view);
  const printer = usePrinter();
  const along = useEdgesAlong(corner?.part === 'edge' ? plan.beds[corner.bedId] : undefined);
  const ring = corner?.part === 'edge' ? plan.beds[corner.bedId]?.rings[corner.ringIndex] : undefined;
  const edge = corner && ring?.edges[corner.pointIndex];
  if (!corner || !ring || !edge) return null;
  const points = edgePoints(ring, corner.pointIndex);
  const [from, to] = [points[0], points.at(-1)];
  if (!from || !to) return null;
  const middle =
    points.length > 2 ? (points[Math.floor(points.length / 2)] ?? from) : pointBetween(from, to, 0.5);
  const at = planToScreen(middle, view);
  const stretches = along?.[corner.ringIndex]?.[corner.pointIndex] ?? [];
  const change = (changes: Partial<BedEdge>): void => {
    const { bedId: id, ringIndex, pointIndex } = corner;
    edit({ name: 'set-edge', params: { id, ringIndex, pointIndex, changes } });
  };
  return (
    <section
      className="slip edge-slip"
      aria-label="Edge"
      style={{ transform: `translate(${at.x + 14}px, ${at.y + 14}px)` }}
    >
      <h2>
        Edge {corner.pointIndex + 1}, {printer.length(distanceM(from, to))}
      </h2>
      <ChoiceField
        label="Runs along"
        value={edge.class ?? ''}
        choices={[
          [
            '',
            edge.class === null && stretches.length > 0
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
        value={edge.offsetM}
        empty={
          edge.offsetM === null && stretches.length > 0
            ? `as its kind: ${sayEdgeOffsets(stretches, printer)}`
            : 'as its kind'
        }
        onSet={(offsetM) => change({ offsetM })}
      />
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
