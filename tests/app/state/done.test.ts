import { describe, expect, it } from 'vitest';
import { nameOfEdit, sayDone } from '../../../src/app/state/done';
import { type Command, emptyPlan, perform, plainBed, startHistory } from '../../../src/core/plan';

const bed = (id: string, x: number) => {
  const points = [
    { x, y: 0 },
    { x: x + 2, y: 0 },
    { x: x + 2, y: 2 },
  ];
  return plainBed(id, [{ points, edges: points.map(() => ({ class: null, offsetM: null, sagittaM: 0 })) }]);
};
const plan = { ...emptyPlan('named'), beds: { a: bed('a', 0), b: bed('b', 4) } };

function done(command: Command) {
  const performed = perform(startHistory(plan), command);
  if (!performed.ok) throw new Error(performed.problems[0]?.code);
  return performed.value.history.past.at(-1)!;
}
const exchange = (remove: readonly string[], put: readonly string[]) =>
  done({
    name: 'replace-items',
    params: {
      remove: remove.map((id) => ({ map: 'beds', id })),
      put: put.map((id, index) => ({ map: 'beds', item: bed(id, 10 + 4 * index) })),
    },
  });

describe('what was done', () => {
  it('is named by what came of it where several things were exchanged at once', () => {
    expect(nameOfEdit(exchange([], ['c']))).toBe('draw');
    expect(nameOfEdit(exchange(['a', 'b'], ['c']))).toBe('join');
    expect(nameOfEdit(exchange(['a'], ['c', 'd']))).toBe('split');
    expect(sayDone(exchange([], ['c', 'd']))).toBe('draw: 2 things');
  });

  it('is named as the act that kept something of the design, with what was kept', () => {
    const path = [
      { x: 0, y: 0 },
      { x: 3, y: 0 },
    ];
    const header = { id: 'header-1', role: 'header', zoneKey: null, path, pipeId: null };
    expect(sayDone(done({ name: 'keep-headers', params: { headers: [header] } }))).toBe(
      'keep headers: Header by hand 1',
    );
    const runs = [{ role: 'loop', closed: true, path: [...path, { x: 3, y: 2 }] }];
    const routes = ['a', 'b'].map((id) => ({ id, runs }));
    expect(sayDone(done({ name: 'lock-routes', params: { routes } }))).toBe('lock the route: 2 things');
    expect(sayDone(done({ name: 'lock-routes', params: { routes: routes.slice(1) } }))).toBe(
      'lock the route: Bed B',
    );
  });

  it('says whose corner was moved, of a building as of a bed', () => {
    const put = done({
      name: 'put-item',
      params: {
        map: 'structures',
        item: {
          id: 'shed',
          name: 'Shed',
          kind: 'building',
          clearanceM: null,
          shape: { kind: 'area', rings: [plan.beds.a!.rings[0]!.points] },
        },
      },
    });
    expect(sayDone(put)).toBe('draw: Shed');
    const params = { ringIndex: 0, pointIndex: 1, to: { x: 3, y: 0 } };
    expect(sayDone(done({ name: 'move-corner', params: { ...params, id: 'a' } }))).toBe(
      'move a corner: Bed A',
    );
    const withShed = perform(startHistory(put.after), {
      name: 'move-corner',
      params: { ...params, map: 'structures', id: 'shed' },
    });
    if (!withShed.ok) throw new Error('the corner can be moved');
    expect(sayDone(withShed.value.history.past.at(-1)!)).toBe('move a corner: Shed');
  });
});
