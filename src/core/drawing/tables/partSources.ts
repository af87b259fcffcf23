import type { Design } from '../../design';
import { saySource, calculationText as words } from '../../words';
import type { Block } from '../blocks';
import { tableBlock } from '../table';

/** Every part whose figures the design computes with, once, and where those are from. */
export function partSourceBlock(design: Design): Block | null {
  const { supply, catalog, beds } = design;
  const pipes = [...supply.main, ...supply.zones.flatMap((zone) => zone.pipes)].map(({ pipe }) => pipe);
  const named = [
    ...beds.map((bed) => bed.choice.dripline),
    ...supply.zones.map((zone) => zone.assembly),
    ...(supply.backflow ? [supply.backflow] : []),
    ...catalog.meters.filter(({ id }) => supply.devices.some(({ partId }) => partId === id)),
    ...pipes.map((pipe) => ({ ...pipe, name: `${pipe.name}, ${pipe.nominal}` })),
  ];
  const parts = [...new Map(named.map((part) => [part.id, part])).values()];
  if (parts.length === 0) return null;
  return tableBlock({
    key: 'part-sources',
    title: words.parts,
    flexible: 1,
    columns: [{ title: words.heads.part }, { title: words.heads.source }],
    rows: parts.map((part) => [part.name, saySource(part.source)]),
  });
}
