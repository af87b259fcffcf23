import { describe, expect, it } from 'vitest';
import { anchorPoint } from '../../../src/app/canvas/shape/anchor';
import { itemsWithin } from '../../../src/app/tools/hit';
import type { ToolContext, ToolEvent } from '../../../src/app/tools/tool';
import { TOOLS, type ToolKey } from '../../../src/app/tools/toolTable';
import { applyCommand, emptyPlan, type Plan } from '../../../src/core/plan';
import { contextFor } from './context';

const at = (x: number, y: number) => ({ x, y });
const place = (x: number, y: number): ToolEvent => ({ kind: 'place', at: at(x, y) });

/** The plan after a tool took these events, each command kept as the desk keeps it. */
function use(plan: Plan, key: ToolKey, events: readonly ToolEvent[], more: Partial<ToolContext> = {}): Plan {
  let drawn = plan;
  const context = (): ToolContext => contextFor(drawn, more);
  let state = TOOLS[key].begin(context());
  for (const event of events) {
    const step = TOOLS[key].take(state, event, context());
    state = step.state;
    if (step.command === undefined) continue;
    const applied = applyCommand(drawn, step.command);
    if (!applied.ok) throw new Error(applied.problems.map((problem) => problem.code).join(' '));
    drawn = applied.value.plan;
  }
  return drawn;
}

const SQUARE = [place(0, 0), place(4, 0), place(4, 3), place(0, 3), { kind: 'finish' } as const];
const empty = emptyPlan('garden');
const withBed = use(empty, 'outline', SQUARE);
const bed = { map: 'beds', id: 'bed-1' } as const;
const cornersOf = (plan: Plan) => plan.beds['bed-1']?.rings[0]?.points ?? [];

/** Corners as a set of places to the tenth of a millimetre, whatever their order. */
const asPlaces = (points: readonly { x: number; y: number }[]): string[] =>
  points
    .map(({ x, y }) => `${(x + 0).toFixed(4)} ${(y + 0).toFixed(4)}`.replace(/-0\.0000/g, '0.0000'))
    .sort();

describe('what can be drawn', () => {
  it('a bed has the corners that were placed, and a hole goes into the chosen one', () => {
    expect(cornersOf(withBed)).toEqual([at(0, 0), at(4, 0), at(4, 3), at(0, 3)]);
    const hole = [place(1, 1), place(2, 1), place(2, 2), { kind: 'finish' } as const];
    const rings = use(withBed, 'hole', hole, { selection: [bed] }).beds['bed-1']?.rings ?? [];
    expect(rings.map((ring) => ring.points.length)).toEqual([4, 3]);
  });

  it('an arc edge has the height that was written over its chord', () => {
    const arc = use(empty, 'outline', [
      place(0, 0),
      { kind: 'edge', edge: 'arc' },
      place(4, 0),
      { kind: 'length', lengthM: 0.5 },
      { kind: 'edge', edge: 'straight' },
      place(4, 3),
      { kind: 'finish' },
    ]);
    expect(arc.beds['bed-1']?.rings[0]?.edges.map((edge) => edge.sagittaM)).toEqual([0.5, 0, 0]);
  });

  it('a walk keeps its width, a buried line its depth, a spot its height', () => {
    const line = [place(0, -1), place(5, -1), { kind: 'finish' } as const];
    const [walk] = Object.values(use(empty, 'walk', line).structures);
    expect(walk).toMatchObject({ kind: 'paving', shape: { kind: 'line', widthM: 1 } });
    const [buried] = Object.values(use(empty, 'utility', line).utilities);
    expect(buried).toMatchObject({ depthM: 0.6, path: [at(0, -1), at(5, -1)] });
    const sizes = { ...contextFor(empty).sizes, spotElevationM: 1.25 };
    const [spot] = Object.values(use(empty, 'spot', [place(2, 2)], { sizes }).spots);
    expect(spot).toMatchObject({ at: at(2, 2), elevationM: 1.25 });
  });

  it('a tree has trunk and canopy, a plant its root ball, each as wide as written', () => {
    const wide: ToolEvent[] = [place(8, 1), { kind: 'length', lengthM: 2.5 }];
    const [tree] = Object.values(use(empty, 'tree', wide).trees);
    expect(tree).toMatchObject({ at: at(8, 1), trunkRadiusM: 0.2, canopyRadiusM: 2.5 });
    const [plant] = Object.values(use(empty, 'plant', wide).plants);
    expect(plant).toMatchObject({ at: at(8, 1), rootBallRadiusM: 2.5 });
  });

  it('a note points with its leader to what was placed first', () => {
    const sizes = { ...contextFor(empty).sizes, noteText: 'keep clear' };
    const [note] = Object.values(use(empty, 'note', [place(1, 1), place(3, 4)], { sizes }).notes);
    expect(note).toMatchObject({ text: 'keep clear', leader: at(1, 1), at: at(3, 4) });
  });
});

describe('what is chosen can be arranged', () => {
  const chosen = { selection: [bed] };

  it('moved by what lies between two places', () => {
    const moved = use(withBed, 'move', [place(0, 0), place(10, -2)], chosen);
    expect(asPlaces(cornersOf(moved))).toEqual(asPlaces([at(10, -2), at(14, -2), at(14, 1), at(10, 1)]));
  });

  it('turned about the first place until east points to the second', () => {
    // a quarter turn anticlockwise takes (x, y) to (-y, x)
    const turned = use(withBed, 'turn', [place(0, 0), place(0, 5)], chosen);
    expect(asPlaces(cornersOf(turned))).toEqual(asPlaces([at(0, 0), at(0, 4), at(-3, 4), at(-3, 0)]));
  });

  it('mirrored in the line through two places', () => {
    const mirrored = use(withBed, 'mirror', [place(5, 0), place(5, 1)], chosen);
    // a mirror at x = 5 takes x to 10 - x
    expect(asPlaces(cornersOf(mirrored))).toEqual(asPlaces([at(10, 0), at(6, 0), at(6, 3), at(10, 3)]));
  });

  it('nothing chosen, nothing done', () => {
    for (const key of ['move', 'copy', 'turn', 'mirror'] as const)
      expect(use(withBed, key, [place(0, 0), place(1, 1)])).toBe(withBed);
  });
});

it('a dimension placed on two corners stays with them when the bed moves', () => {
  const measured = use(withBed, 'dimension', [place(0, 0), place(4, 0)]);
  const moved = use(measured, 'move', [place(0, 0), place(7, 7)], { selection: [bed] });
  const dimension = moved.dimensions['dimension-1']!;
  expect(anchorPoint(moved, dimension.from)).toEqual(at(7, 7));
  expect(anchorPoint(moved, dimension.to)).toEqual(at(11, 7));
});

it('a box chooses what lies wholly inside it, and leaves what only reaches in', () => {
  const plan = use(withBed, 'tree', [place(8, 1), { kind: 'length', lengthM: 2 }]);
  const box = (width: number) => [at(-1, -1), at(width, -1), at(width, 4), at(-1, 4)];
  expect(itemsWithin(plan, box(5))).toEqual([bed]);
  expect(itemsWithin(plan, box(9))).toEqual([bed, { map: 'trees', id: 'tree-1' }]);
  expect(itemsWithin(plan, box(3))).toEqual([]);
});
