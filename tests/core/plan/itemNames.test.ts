import { describe, expect, it } from 'vitest';
import { bedMark, emptyPlan, itemName, type Plan, plainBed, withNames } from '../../../src/core/plan';

const bed = (id: string, name = '') => {
  const points = [
    { x: 0, y: 0 },
    { x: 2, y: 0 },
    { x: 2, y: 2 },
  ];
  const edges = points.map(() => ({ class: null, offsetM: null, sagittaM: 0 }));
  return plainBed(id, [{ points, edges }], name);
};
const disc = { kind: 'disc' as const, at: { x: 0, y: 0 }, radiusM: 1 };
const structure = (id: string, kind: 'building' | 'obstacle', name = '') => ({
  id,
  name,
  kind,
  shape: disc,
  clearanceM: null,
});
const plan: Plan = {
  ...emptyPlan('garden', 'metric'),
  beds: { 'bed-9': bed('bed-9'), 'bed-2': bed('bed-2'), 'bed-4': bed('bed-4', 'Border') },
  structures: {
    s1: structure('s1', 'obstacle'),
    s2: structure('s2', 'building', 'House'),
    s3: structure('s3', 'obstacle'),
  },
};

describe('what a person calls a thing on the plan', () => {
  it('is its own name, a bed’s letter, or its kind and its number among its kind: never its id', () => {
    // In the order of their ids bed-2 is A, bed-4 B, bed-9 C.
    expect(['bed-2', 'bed-4', 'bed-9'].map((id) => itemName(plan, 'beds', id))).toEqual([
      'Bed A',
      'Border',
      'Bed C',
    ]);
    expect(['s1', 's2', 's3'].map((id) => itemName(plan, 'structures', id))).toEqual([
      'Obstacle 1',
      'House',
      'Obstacle 2',
    ]);
    const pipe = (id: string, role: 'main' | 'header') => ({
      id,
      role,
      zoneKey: null,
      path: [
        { x: 0, y: 0 },
        { x: 1, y: 0 },
      ],
      pipeId: null,
    });
    const led = {
      ...plan,
      lockedPipes: { a: pipe('a', 'header'), b: pipe('b', 'main'), c: pipe('c', 'header') },
    };
    expect(['a', 'b', 'c'].map((id) => itemName(led, 'lockedPipes', id))).toEqual([
      'Header by hand 1',
      'Main by hand 1',
      'Header by hand 2',
    ]);
    expect([0, 25, 26, 52].map(bedMark)).toEqual(['A', 'Z', 'AA', 'BA']);
  });

  it('stands on everything the design speaks of, and unchanged things stay the very same', () => {
    const named = withNames(plan);
    expect(Object.values(named.beds).map((one) => one.name)).toEqual(['Bed C', 'Bed A', 'Border']);
    expect(named.beds['bed-4']).toBe(plan.beds['bed-4']);
    expect(named.trees).toBe(plan.trees);
    expect(withNames(plan)).toBe(named);
    // An edit elsewhere leaves a bed's named self the same, so that its route stays known.
    const edited = { ...plan, beds: { ...plan.beds, 'bed-9': bed('bed-9') } };
    expect(withNames(edited).beds['bed-2']).toBe(named.beds['bed-2']);
    expect(withNames(edited).structures).toBe(named.structures);
    const whole = { ...plan, beds: {}, structures: {} };
    expect(withNames(whole)).toBe(whole);
  });
});
