import type { ReactElement } from 'react';
import type { ItemMap, Structure } from '../../core/plan';
import { inCommon } from '../state/alike';
import { useDesk } from '../state/desk';
import { edit } from '../state/edit';
import { nameOf } from '../state/names';
import type { Measure } from '../state/read';
import { chosenByCorners } from '../state/selection';
import { Act } from './Act';
import { CheckField } from './CheckField';
import { ControllerFields } from './ControllerFields';
import { Outlines } from './Outlines';
import { PipeFields } from './PipeFields';
import { QuantityField } from './QuantityField';
import { Section } from './Section';
import { TextField } from './TextField';
import { UnderlayScale } from './UnderlayScale';
import { ValveFields } from './ValveFields';

/** Figures of a kind of item that are lengths of its own. */
const FIGURES: Readonly<Partial<Record<ItemMap, readonly (readonly [string, string, Measure])[]>>> = {
  trees: [
    ['trunkRadiusM', 'Radius of the trunk', 'length'],
    ['canopyRadiusM', 'Radius of the canopy', 'length'],
  ],
  plants: [['rootBallRadiusM', 'Radius of the root ball', 'length']],
  utilities: [['depthM', 'Depth', 'length']],
  spots: [['elevationM', 'Height over the datum', 'length']],
  structures: [['clearanceM', 'Tubing keeps off', 'spacing']],
  valves: [['elevationM', 'Height over the datum', 'length']],
  dimensions: [['asideM', 'Stands aside by', 'length']],
  underlays: [
    ['turnRad', 'Turned by', 'angle'],
    ['fadeRatio', 'Faded by', 'share'],
  ],
};

/** The chosen item, or what like items have in common: set once, set on all. */
export function ItemFields(): ReactElement | null {
  const plan = useDesk((state) => state.history.plan);
  const selection = useDesk((state) => state.selection);
  const [first] = selection;
  if (!first) return null;
  if (selection.some((item) => item.map !== first.map)) {
    return (
      <Section title={`${selection.length} things`} aside="chosen">
        <ArrangeActs />
      </Section>
    );
  }
  const items = selection.flatMap(({ map, id }) => {
    const one = plan[map][id] as unknown as Readonly<Record<string, unknown>> | undefined;
    return one ? [one] : [];
  });
  const [item] = items;
  if (!item) return null;
  const isMixed = (field: string): boolean => inCommon(items, field).isMixed;
  const change = (changes: Readonly<Record<string, unknown>>): boolean =>
    edit({ name: 'change-items', params: { items: selection, changes } });
  const cornered = chosenByCorners(selection);
  const title = selection.length === 1 ? nameOf(plan, first) : `${selection.length} alike`;
  const { name, text } = item;
  return (
    <>
      <Section title={title} aside="chosen">
        {typeof name === 'string' ? (
          <TextField
            label="Name"
            value={name}
            isMixed={isMixed('name')}
            onSet={(value) => change({ name: value })}
          />
        ) : null}
        {typeof text === 'string' ? (
          <TextField
            label="Words"
            value={text}
            isMixed={isMixed('text')}
            onSet={(value) => change({ text: value })}
          />
        ) : null}
        {(FIGURES[first.map] ?? []).map(([key, label, measure]) => (
          <QuantityField
            key={key}
            label={label}
            measure={measure}
            value={typeof item[key] === 'number' ? item[key] : null}
            empty="not said"
            isMixed={isMixed(key)}
            onSet={(value) => change({ [key]: value })}
          />
        ))}
        {first.map === 'plants' ? (
          <CheckField
            label="It has a spur of its own"
            isOn={item.spur === true}
            isMixed={isMixed('spur')}
            onTurn={(spur) => change({ spur })}
          />
        ) : null}
        {first.map === 'valves' ? <ValveFields ids={selection.map(({ id }) => id)} /> : null}
        {first.map === 'controllers' ? <ControllerFields ids={selection.map(({ id }) => id)} /> : null}
        {first.map === 'lockedPipes' ? <PipeFields ids={selection.map(({ id }) => id)} /> : null}
        {first.map === 'underlays' ? (
          <CheckField
            label="Locked: the hand passes over it"
            isOn={item.locked === true}
            isMixed={isMixed('locked')}
            onTurn={(locked) => change({ locked })}
          />
        ) : null}
        {first.map === 'underlays' && selection.length === 1 ? <UnderlayScale id={first.id} /> : null}
        {selection.length === 1 ? <ShapeFields map={first.map} id={first.id} /> : null}
        <ArrangeActs />
      </Section>
      {cornered && cornered.map !== 'beds' ? <Outlines item={cornered} /> : null}
    </>
  );
}

/** What can be done with anything chosen, of one kind or of several: it stands with what is chosen and nowhere else. */
const ArrangeActs = (): ReactElement => (
  <div className="acts">
    <Act action="tool.move" />
    <Act action="tool.copy" />
    <Act action="tool.turn" />
    <Act action="tool.mirror" />
    <Act action="edit.remove" />
  </div>
);

/** How wide a line is drawn, and how large something round. */
function ShapeFields({ map, id }: { readonly map: ItemMap; readonly id: string }): ReactElement | null {
  const shape = useDesk((state) =>
    map === 'structures' ? state.history.plan.structures[id]?.shape : undefined,
  );
  if (shape === undefined || shape.kind === 'area') return null;
  const set = (changed: Structure['shape']): boolean =>
    edit({ name: 'change-items', params: { items: [{ map, id }], changes: { shape: changed } } });
  return shape.kind === 'line' ? (
    <QuantityField
      label="Width"
      measure="length"
      value={shape.widthM}
      onSet={(widthM) => set({ ...shape, widthM: widthM ?? 0 })}
    />
  ) : (
    <QuantityField
      label="Radius"
      measure="length"
      value={shape.radiusM}
      onSet={(radiusM) => set({ ...shape, radiusM: radiusM ?? 0 })}
    />
  );
}
