import { describe, expect, it } from 'vitest';
import { splitTool } from '../../../src/app/tools/split';
import { applyCommand, emptyPlan, plainBed } from '../../../src/core/plan';
import { contextFor } from './context';

const points = [
  { x: 0, y: 0 },
  { x: 6, y: 0 },
  { x: 6, y: 4 },
  { x: 0, y: 4 },
];
const edges = points.map(() => ({ class: null, offsetM: null, sagittaM: 0 }));
const bed = {
  ...plainBed('bed-1', [{ points, edges }], 'Border'),
  plants: 'low' as const,
  stubUp: { x: 0, y: 1 },
};
const plan = { ...emptyPlan('garden', 'metric'), beds: { 'bed-1': bed } };
let number = 1;
const context = contextFor(plan, {
  selection: [{ map: 'beds', id: 'bed-1' }],
  newId: (kind) => `${kind}-${++number}`,
});
const placed = (...at: readonly (readonly [number, number])[]) =>
  at.reduce(
    (state, [x, y]) => splitTool.take(state, { kind: 'place', at: { x, y } }, context).state,
    splitTool.begin(context),
  );

describe('the tool that cuts a bed', () => {
  it('puts two beds in place of one, with its choices and without what was fixed to a place', () => {
    const step = splitTool.take(placed([2, 1], [2, 3]), { kind: 'finish' }, context);
    expect(step.isDone).toBe(true);
    const done = step.command && applyCommand(plan, step.command);
    if (!done?.ok) throw new Error('the cut is a command the plan takes');
    const beds = Object.values(done.value.plan.beds);
    expect(beds.map((one) => one.name).sort()).toEqual(['Border 1', 'Border 2']);
    for (const one of beds) {
      expect(one.plants).toBe('low');
      expect(one.stubUp).toBeNull();
    }
  });

  it('says why where the line passes the bed by, and keeps what was drawn', () => {
    const state = placed([8, 1], [8, 3]);
    const step = splitTool.take(state, { kind: 'finish' }, context);
    expect(step.command).toBeUndefined();
    expect(step.refusal).toMatch(/passes the chosen bed by/);
    expect(step.state).toBe(state);
  });

  it('shows the line carried on straight at both ends before it is kept', () => {
    const draft = splitTool.draft(placed([2, 1], [2, 3]), context);
    expect(draft.lines.filter((line) => line.style === 'closing').length).toBe(2);
  });
});
