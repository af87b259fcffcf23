import type { ItemMap, LockedPipe, Plan, Structure } from './schema';

/** What one of each kind of drawn thing is called. */
export const ITEM_NOUNS: Readonly<Record<ItemMap, string>> = {
  beds: 'Bed',
  structures: 'Structure',
  trees: 'Tree',
  plants: 'Plant',
  utilities: 'Buried line',
  sources: 'Connection',
  valves: 'Valve assembly',
  controllers: 'Controller',
  spots: 'Spot height',
  notes: 'Note',
  dimensions: 'Dimension',
  lockedPipes: 'Pipe drawn by hand',
  underlays: 'Underlay',
  foreign: 'Unknown feature',
  readings: 'Field reading',
};
export const STRUCTURE_NOUNS: Readonly<Record<Structure['kind'], string>> = {
  building: 'Building',
  paving: 'Paving',
  fence: 'Fence',
  obstacle: 'Obstacle',
};
const PIPE_NOUNS: Readonly<Record<LockedPipe['role'], string>> = {
  main: 'Main by hand',
  header: 'Header by hand',
  wire: 'Wire by hand',
};

/** Letters of beds in order: A ... Z, AA, AB ... `index` counts from 0. */
export function bedMark(index: number): string {
  const letter = String.fromCharCode(65 + (index % 26));
  return index < 26 ? letter : bedMark(Math.floor(index / 26) - 1) + letter;
}

const isBefore = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** The letter a bed carries on sheet and screen: its place in the order of the ids. */
export const markOfBed = (plan: Pick<Plan, 'beds'>, id: string): string =>
  bedMark(Object.keys(plan.beds).sort(isBefore).indexOf(id));

/**
 * What a person calls an item: its own name; a bed without one by its letter, anything else by its kind and its number among its kind
 * in the order of the ids. An id no item has is given back as it is.
 */
export function itemName(plan: Plan, map: ItemMap, id: string): string {
  const item = plan[map][id];
  if (item === undefined) return id;
  if ('name' in item && item.name !== '') return item.name;
  if (map === 'beds') return `${ITEM_NOUNS.beds} ${markOfBed(plan, id)}`;
  const structure = map === 'structures' ? plan.structures[id] : undefined;
  const pipe = map === 'lockedPipes' ? plan.lockedPipes[id] : undefined;
  const alike = Object.keys(plan[map])
    .filter((one) => structure === undefined || plan.structures[one]?.kind === structure.kind)
    .filter((one) => pipe === undefined || plan.lockedPipes[one]?.role === pipe.role)
    .sort(isBefore);
  const noun = structure ? STRUCTURE_NOUNS[structure.kind] : pipe ? PIPE_NOUNS[pipe.role] : ITEM_NOUNS[map];
  return `${noun} ${alike.indexOf(id) + 1}`;
}

/** Kinds of things whose names findings and tables speak of. */
const SPOKEN_OF = ['beds', 'structures', 'trees', 'plants', 'utilities'] as const;

const named = new WeakMap<Plan, Plan>();
const namedItems = new WeakMap<object, object>();

/** An item under a name; the same item under the same name is the same object, so that what was worked out for it stays known. */
function under<T extends { readonly name: string }>(item: T, name: string): T {
  if (item.name === name) return item;
  const known = namedItems.get(item) as T | undefined;
  if (known?.name === name) return known;
  const made = { ...item, name };
  namedItems.set(item, made);
  return made;
}

type Named = Readonly<Record<string, { readonly name: string }>>;
const namedMaps = new WeakMap<object, Named>();

/** The plan with a readable name on everything that findings and tables speak of. A plan where nothing lacks one comes back as it is. */
export function withNames(plan: Plan): Plan {
  const known = named.get(plan);
  if (known) return known;
  const changes = SPOKEN_OF.flatMap((map) => {
    const items: Named = plan[map];
    if (Object.values(items).every((item) => item.name !== '')) return [];
    const made =
      namedMaps.get(items) ??
      Object.fromEntries(
        Object.entries(items).map(([id, item]) => [id, under(item, itemName(plan, map, id))]),
      );
    namedMaps.set(items, made);
    return [[map, made] as const];
  });
  const full = changes.length === 0 ? plan : { ...plan, ...Object.fromEntries(changes) };
  named.set(plan, full);
  return full;
}
