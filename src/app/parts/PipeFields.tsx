import type { ReactElement } from 'react';
import { inCommon } from '../state/alike';
import { useDesk } from '../state/desk';
import { edit } from '../state/edit';
import { ChoiceField } from './ChoiceField';

/** The zone and the size of pipe led by hand: as the design has them, or chosen. */
export function PipeFields({ ids }: { readonly ids: readonly string[] }): ReactElement | null {
  const pipes = useDesk((state) => state.history.plan.lockedPipes);
  const design = useDesk((state) => state.design);
  const items = ids.flatMap((id) => pipes[id] ?? []);
  const [first] = items;
  if (!first) return null;
  const change = (changes: Readonly<Record<string, unknown>>): void => {
    edit({
      name: 'change-items',
      params: { items: ids.map((id) => ({ map: 'lockedPipes', id })), changes },
    });
  };
  const zones = design?.supply.zones ?? [];
  const own = zones.find((zone) => zone.drawnPipeIds.includes(first.id));
  const named = zones.map((zone) => [zone.zoneKey ?? zone.id, `Zone ${zone.number}`] as const);
  const isLost = first.zoneKey !== null && !named.some(([key]) => key === first.zoneKey);
  return (
    <>
      {items.every(({ role }) => role === 'header') ? (
        <ChoiceField
          label="Zone"
          value={first.zoneKey ?? ''}
          isMixed={inCommon(items, 'zoneKey').isMixed}
          choices={[
            ['', own && first.zoneKey === null ? `the nearest: zone ${own.number}` : 'the nearest'],
            ...named,
            ...(isLost ? [[first.zoneKey ?? '', 'one there is not'] as const] : []),
          ]}
          onChoose={(key) => change({ zoneKey: key === '' ? null : key })}
        />
      ) : null}
      <ChoiceField
        label="Pipe"
        isLong
        value={first.pipeId ?? ''}
        isMixed={inCommon(items, 'pipeId').isMixed}
        choices={[
          ['', 'sized for me'],
          ...(design?.catalog.pipes ?? []).map((pipe) => [pipe.id, `${pipe.name} ${pipe.nominal}`] as const),
        ]}
        onChoose={(id) => change({ pipeId: id === '' ? null : id })}
      />
    </>
  );
}
