import type { ReactElement } from 'react';
import { distanceM, type PlanPoint } from '../../core/geometry';
import { useDesk } from '../state/desk';
import { edit } from '../state/edit';
import { useTool } from '../state/tools';
import { usePrinter } from '../state/units';
import { Act } from './Act';
import { QuantityField } from './QuantityField';

interface Measured {
  readonly name: 'shown';
  readonly from: PlanPoint;
  readonly to: PlanPoint;
}

const isMeasured = (state: unknown): state is Measured =>
  typeof state === 'object' && state !== null && (state as { name?: unknown }).name === 'shown';

/** Sets a picture to scale: two of its points, measured, and how far apart they really are. A third point, measured after, checks it. */
export function UnderlayScale({ id }: { readonly id: string }): ReactElement {
  const underlay = useDesk((state) => state.history.plan.underlays[id]);
  const measured = useTool((tool) => (tool.key === 'measure' && isMeasured(tool.state) ? tool.state : null));
  const printer = usePrinter();
  if (!underlay || measured === null) {
    return (
      <p>
        To set its scale, measure between two of its points: <Act action="tool.measure" />
      </p>
    );
  }
  const drawnM = distanceM(measured.from, measured.to);
  const setTrue = (trueM: number | null): void => {
    if (trueM === null || trueM <= 0 || drawnM === 0) return;
    const ratio = trueM / drawnM;
    const { from } = measured;
    const changes = {
      metresPerPixel: underlay.metresPerPixel * ratio,
      originX: from.x + (underlay.originX - from.x) * ratio,
      originY: from.y + (underlay.originY - from.y) * ratio,
    };
    edit({ name: 'change-items', params: { items: [{ map: 'underlays', id }], changes } });
  };
  return (
    <>
      <p>
        As it lies now the two points are {printer.length(drawnM)} apart. Write what they really are; then
        measure to a third point and compare.
      </p>
      <QuantityField
        label="Really apart"
        measure="length"
        value={null}
        empty={printer.length(drawnM)}
        onSet={setTrue}
      />
    </>
  );
}
