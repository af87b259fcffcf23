import type { ReactElement } from 'react';
import { PartSymbol } from '../look/PartSymbol';
import { useDesk } from '../state/desk';

/** A stake and its noon shadow; turned where the plan's up is not north. */
export function NorthMark(): ReactElement {
  const bearingRad = useDesk((state) => state.history.plan.georeference?.bearingRad ?? 0);
  return (
    <div className="north-mark" style={{ transform: `rotate(${-bearingRad}rad)` }}>
      <PartSymbol name="north" size={46} says="North" />
    </div>
  );
}
