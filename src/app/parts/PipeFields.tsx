import type { ReactElement } from 'react';
import { inCommon } from '../state/alike';
import { useDesk } from '../state/desk';
import { edit } from '../state/edit';
import { ChoiceField } from './ChoiceField';
import { ZoneField } from './ZoneField';

/** The zone and the size of pipe led by hand: as the design has them, or chosen. */
export function PipeFields({ ids }: { readonly ids: readonly string[] }): ReactElement | null {
  const all = useDesk((state) => state.history.plan.lockedPipes);
  const pipes = useDesk((state) => state.design?.catalog.pipes) ?? [];
  const items = ids.flatMap((id) => all[id] ?? []);
  const [first] = items;
  if (!first) return null;
  const change = (changes: { readonly zoneKey?: string | null; readonly pipeId?: string | null }): void => {
    edit({ name: 'change-items', params: { items: ids.map((id) => ({ map: 'lockedPipes', id })), changes } });
  };
  return (
    <>
      {items.every(({ role }) => role === 'header') ? (
        <ZoneField
          items={items}
          isOf={(zone, id) => zone.drawnPipeIds.includes(id)}
          onChoose={(zoneKey) => change({ zoneKey })}
        />
      ) : null}
      <ChoiceField
        label="Pipe"
        isLong
        value={first.pipeId ?? ''}
        isMixed={inCommon(items, 'pipeId').isMixed}
        choices={[
          ['', 'sized for me'],
          ...pipes.map((pipe) => [pipe.id, `${pipe.name} ${pipe.nominal}`] as const),
        ]}
        onChoose={(id) => change({ pipeId: id === '' ? null : id })}
      />
    </>
  );
}
