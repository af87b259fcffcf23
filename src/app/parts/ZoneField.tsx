import type { ReactElement } from 'react';
import type { Zone } from '../../core/supply';
import { inCommon } from '../state/alike';
import { useDesk } from '../state/desk';
import { ChoiceField } from './ChoiceField';

interface Props {
  readonly items: readonly { readonly id: string; readonly zoneKey: string | null }[];
  /** Whether a zone, as designed, has this very thing. */
  readonly isOf: (zone: Zone, id: string) => boolean;
  readonly onChoose: (zoneKey: string | null) => void;
}

/** The zone that pipe or a valve belongs to: the nearest, or one that is chosen. */
export function ZoneField({ items, isOf, onChoose }: Props): ReactElement | null {
  const zones = useDesk((state) => state.design?.supply.zones) ?? [];
  const [first] = items;
  if (!first) return null;
  const own = zones.find((zone) => isOf(zone, first.id));
  const named = zones.map((zone) => [zone.zoneKey ?? zone.id, `Zone ${zone.number}`] as const);
  const key = first.zoneKey;
  const isLost = key !== null && !named.some(([one]) => one === key);
  const lost: readonly (readonly [string, string])[] = isLost ? [[key, 'one there is not']] : [];
  return (
    <ChoiceField
      label="Zone"
      value={key ?? ''}
      isMixed={inCommon(items, 'zoneKey').isMixed}
      choices={[
        ['', own && key === null ? `the nearest: zone ${own.number}` : 'the nearest'],
        ...named,
        ...lost,
      ]}
      onChoose={(chosen) => onChoose(chosen === '' ? null : chosen)}
    />
  );
}
