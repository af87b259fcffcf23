import type { ReactElement } from 'react';
import type { Controller } from '../../core/plan';
import { inCommon } from '../state/alike';
import { useDesk } from '../state/desk';
import { edit } from '../state/edit';
import { CheckField } from './CheckField';
import { QuantityField } from './QuantityField';

const CHECKS = [
  ['masterValve', 'A master valve stands in the main'],
  ['flowSensor', 'A flow sensor stands in the main'],
  ['weatherSensor', 'It waters by the weather'],
] as const;

/** What a controller has: stations, and the devices that hang on it and stand in the main. */
export function ControllerFields({ ids }: { readonly ids: readonly string[] }): ReactElement | null {
  const controllers = useDesk((state) => state.history.plan.controllers);
  const items = ids.flatMap((id) => controllers[id] ?? []);
  const [first] = items;
  if (!first) return null;
  const change = (changes: Partial<Controller>): boolean =>
    edit({ name: 'change-items', params: { items: ids.map((id) => ({ map: 'controllers', id })), changes } });
  return (
    <>
      <QuantityField
        label="Stations"
        measure="number"
        value={first.stations}
        isMixed={inCommon(items, 'stations').isMixed}
        onSet={(stations) => change({ stations: Math.max(1, Math.round(stations ?? 1)) })}
      />
      {CHECKS.map(([key, label]) => (
        <CheckField
          key={key}
          label={label}
          isOn={first[key]}
          isMixed={inCommon(items, key).isMixed}
          onTurn={(isOn) => change({ [key]: isOn })}
        />
      ))}
    </>
  );
}
