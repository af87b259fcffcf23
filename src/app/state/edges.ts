import { useMemo } from 'react';
import { type EdgeStretch, edgesAlong } from '../../core/layout';
import type { Bed } from '../../core/plan';
import type { Printer } from '../../core/units';
import { EDGE_CLASS_NAMES } from '../wording';
import { useDesk } from './desk';

/** Stretches of every edge of a bed, by ring and edge; null until the bed was designed, for its soil decides with them. */
export function useEdgesAlong(bed: Bed | undefined): ReturnType<typeof edgesAlong> | null {
  const plan = useDesk((state) => state.history.plan);
  const soil = useDesk(
    (state) => state.design?.beds.find((one) => one.sourceBedId === bed?.id)?.choice.soil ?? null,
  );
  return useMemo(
    () => (bed === undefined || soil === null ? null : edgesAlong(plan, bed, soil)),
    [plan, bed, soil],
  );
}

const distinct = (words: readonly string[]): string => [...new Set(words)].join(', ');

/** What an edge runs along, in words: "foundation", or "foundation, open ground" where it changes. */
export const sayEdgeClasses = (stretches: readonly EdgeStretch[]): string =>
  distinct(stretches.map((stretch) => EDGE_CLASS_NAMES[stretch.class]));

/** How far tubing keeps off an edge: "12 in", or "12 in, 3 in" where it changes. */
export const sayEdgeOffsets = (stretches: readonly EdgeStretch[], printer: Printer): string =>
  distinct(stretches.map((stretch) => printer.small(stretch.offsetM)));

/** Both, as they are written along the edge itself: "foundation, off 12 in". */
export const sayEdge = (stretches: readonly EdgeStretch[], printer: Printer): string =>
  distinct(
    stretches.map((stretch) => `${EDGE_CLASS_NAMES[stretch.class]}, off ${printer.small(stretch.offsetM)}`),
  );
