import type { ReactElement } from 'react';
import type { Valve } from '../../core/plan';
import { inCommon } from '../state/alike';
import { useDesk } from '../state/desk';
import { edit } from '../state/edit';
import { usePrinter } from '../state/units';
import { ChoiceField } from './ChoiceField';
import { ZoneField } from './ZoneField';

/** The zone a drawn valve serves and the assembly that stands there: as the design has them, or chosen. */
export function ValveFields({ ids }: { readonly ids: readonly string[] }): ReactElement | null {
  const printer = usePrinter();
  const valves = useDesk((state) => state.history.plan.valves);
  const assemblies = useDesk((state) => state.design?.catalog.assemblies) ?? [];
  const zones = useDesk((state) => state.design?.supply.zones) ?? [];
  const items = ids.flatMap((id) => valves[id] ?? []);
  const [first] = items;
  if (!first) return null;
  const change = (changes: Partial<Valve>): void => {
    edit({ name: 'change-items', params: { items: ids.map((id) => ({ map: 'valves', id })), changes } });
  };
  // The setting tells them apart, so it stands where a narrow list cannot cut it off.
  const named = (one: (typeof assemblies)[number]): string =>
    `${printer.pressure(one.regulatedHeadM)}, ${one.name}`;
  const own = zones.find((zone) => zone.devices.some((device) => device.id === first.id));
  return (
    <>
      <ZoneField
        items={items}
        isOf={(zone, id) => zone.devices.some((device) => device.id === id)}
        onChoose={(zoneKey) => change({ zoneKey })}
      />
      <ChoiceField
        label="Assembly"
        isLong
        value={first.assemblyId ?? ''}
        isMixed={inCommon(items, 'assemblyId').isMixed}
        choices={[
          ['', own && first.assemblyId === null ? `for me: ${named(own.assembly)}` : 'chosen for me'],
          ...assemblies.map((one) => [one.id, named(one)] as const),
        ]}
        onChoose={(id) => change({ assemblyId: id === '' ? null : id })}
      />
    </>
  );
}
