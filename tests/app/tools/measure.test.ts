import { describe, expect, it } from 'vitest';
import { measured, measureTool } from '../../../src/app/tools/measure';
import { emptyPlan } from '../../../src/core/plan';
import { contextFor } from './context';

const context = contextFor(emptyPlan('garden'));
type State = ReturnType<typeof measureTool.begin>;
const placed = (points: readonly (readonly [number, number])[]): State =>
  points.reduce<State>(
    (state, [x, y]) => measureTool.take(state, { kind: 'place', at: { x, y } }, context).state,
    measureTool.begin(context),
  );

describe('measuring', () => {
  it('a 3-4-5 corner measures 7 along, a right angle, and half of 3 x 4 inside', () => {
    // by hand: 3 + 4 = 7 m; the legs of a 3-4-5 triangle are square to each other; 3 x 4 / 2 = 6 m2
    const figures = measured(
      placed([
        [0, 0],
        [3, 0],
        [3, 4],
      ]).points,
    );
    expect(figures?.lengthM).toBeCloseTo(7, 12);
    expect(figures?.lastM).toBeCloseTo(4, 12);
    expect(figures?.angleRad).toBeCloseTo(Math.PI / 2, 12);
    expect(figures?.areaM2).toBeCloseTo(6, 12);
  });

  it('a bearing is read clockwise from north, as a compass is', () => {
    expect(
      measured([
        { x: 0, y: 0 },
        { x: 5, y: 0 },
      ])?.bearingRad,
    ).toBeCloseTo(Math.PI / 2, 12);
    expect(
      measured([
        { x: 0, y: 0 },
        { x: -5, y: 0 },
      ])?.bearingRad,
    ).toBeCloseTo(1.5 * Math.PI, 12);
  });

  it('one place alone has no figures, two have no area', () => {
    expect(measured([{ x: 1, y: 1 }])).toBeNull();
    expect(
      measured([
        { x: 0, y: 0 },
        { x: 1, y: 0 },
      ])?.areaM2,
    ).toBeNull();
  });

  it('changes nothing, ends on Return and begins afresh at the next place', () => {
    const ended = measureTool.take(
      placed([
        [0, 0],
        [1, 0],
      ]),
      { kind: 'finish' },
      context,
    );
    expect(ended.command).toBeUndefined();
    const next = measureTool.take(ended.state, { kind: 'place', at: { x: 9, y: 9 } }, context);
    expect(next.state.points).toEqual([{ x: 9, y: 9 }]);
  });
});
