import { describe, expect, it } from 'vitest';
import { pullTool } from '../../../src/app/tools/pull';
import type { ToolContext } from '../../../src/app/tools/tool';
import { applyCommand, emptyPlan, plainBed } from '../../../src/core/plan';
import { contextFor } from './context';

const at = (x: number, y: number) => ({ x, y });
const square = [at(0, 0), at(10, 0), at(10, 6), at(0, 6)];
const bed = plainBed('bed-1', [
  { points: square, edges: square.map(() => ({ class: null, offsetM: null, sagittaM: 0 })) },
]);
const plan = { ...emptyPlan('garden'), beds: { 'bed-1': bed } };
const loop = [at(1, 1), at(9, 1), at(9, 5), at(1, 5), at(1, 1)];
const routes: ToolContext['routes'] = () => [
  { bedId: 'bed-1', runs: [{ role: 'loop', closed: true, path: loop }] },
];
const context = contextFor(plan, { routes });

describe('pulling laid tubing aside', () => {
  it('keeps the pulled route on the bed as one edit, with the loop still closed', () => {
    const held = pullTool.take({ name: 'waiting' }, { kind: 'place', at: at(5, 1.05) }, context);
    expect(held.state.name).toBe('pulling');
    const done = pullTool.take(held.state, { kind: 'place', at: at(5, 1.5) }, context);
    const applied = done.command && applyCommand(plan, done.command);
    if (!applied?.ok) throw new Error('the pull was refused');
    const path = applied.value.plan.beds['bed-1']?.lockedRoute?.[0]?.path ?? [];
    expect(path[0]).toEqual(path.at(-1));
    // held at (5, 1) and placed at (5, 1.5): that point of the tubing, and none further, goes all the way
    expect(Math.max(...path.filter((p) => p.x > 4 && p.x < 6 && p.y < 3).map((p) => p.y))).toBeCloseTo(
      1.5,
      9,
    );
    // 1 m gives way to either side: 1.2 m off nothing has moved
    expect(
      path.filter((p) => p.y < 3 && (p.x < 3.8 || p.x > 6.2) && p.x > 1 && p.x < 9).every((p) => p.y === 1),
    ).toBe(true);
  });

  it('takes hold of nothing away from tubing, and lets go on Backspace', () => {
    const missed = pullTool.take({ name: 'waiting' }, { kind: 'place', at: at(5, 3) }, context);
    expect(missed.state.name).toBe('waiting');
    const held = pullTool.take({ name: 'waiting' }, { kind: 'place', at: at(5, 1) }, context);
    const back = pullTool.take(held.state, { kind: 'back' }, context);
    expect(back).toEqual({ state: { name: 'waiting' } });
  });
});
