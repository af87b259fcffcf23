import { describe, expect, it } from 'vitest';
import { readEntry } from '../../../src/app/tools/entry';
import { rectangleTool } from '../../../src/app/tools/rectangle';
import { emptyPlan } from '../../../src/core/plan';
import { contextFor } from './context';

const read = (text: string, system: 'us' | 'metric' = 'us') => {
  const entry = readEntry(text, system);
  return entry.ok ? entry.value : null;
};

describe('what is written on the rule', () => {
  it("12'6 x 20' is a size, east by north", () => {
    // a foot is 0.3048 m exactly
    expect(read("12'6 x 20'")).toEqual({
      kind: 'size',
      eastM: expect.closeTo(3.81, 12),
      northM: expect.closeTo(6.096, 12),
    });
    expect(read('3 by 4', 'metric')).toEqual({ kind: 'size', eastM: 3, northM: 4 });
  });

  it('a length with a direction is a way, a length alone is a length', () => {
    expect(read('12.5 @ 30')).toMatchObject({ kind: 'way', lengthM: expect.closeTo(3.81, 12) });
    expect(read('3.81 m')).toEqual({ kind: 'length', lengthM: 3.81 });
  });

  it('a place is written as the rule shows it', () => {
    expect(read('E 10 N 5', 'metric')).toEqual({ kind: 'place', at: { x: 10, y: 5 } });
    expect(read('W 10 S 5', 'metric')).toEqual({ kind: 'place', at: { x: -10, y: -5 } });
  });

  it('what cannot be read is refused with a reason', () => {
    const entry = readEntry('twelve', 'us');
    expect(entry.ok).toBe(false);
    expect(entry.problems[0]?.code).toMatch(/^units\./);
  });
});

describe('the rectangle tool', () => {
  const context = contextFor(emptyPlan('garden'));
  const tool = rectangleTool('bed', (ring) => ({ name: 'put-item', params: { ring } }));

  it('stretches from a corner to a typed size and makes one edit', () => {
    const placed = tool.take(tool.begin(context), { kind: 'place', at: { x: 1, y: 2 } }, context);
    const sized = tool.take(placed.state, { kind: 'size', eastM: 3, northM: 4 }, context);
    expect(sized.isDone).toBe(true);
    expect(sized.command?.params.ring).toEqual([
      { x: 1, y: 2 },
      { x: 4, y: 2 },
      { x: 4, y: 6 },
      { x: 1, y: 6 },
    ]);
  });

  it('goes one state back before it is put away', () => {
    const placed = tool.take(tool.begin(context), { kind: 'place', at: { x: 1, y: 2 } }, context);
    const back = tool.take(placed.state, { kind: 'back' }, context);
    expect(back.state).toMatchObject({ name: 'waiting' });
    expect(tool.take(back.state, { kind: 'back' }, context).isOver).toBe(true);
  });
});
