import { describe, expect, it } from 'vitest';
import { emptyPlan, type Plan } from '../../../src/core/plan';
import { upkeepTasks } from '../../../src/core/soilwater';
import { printer } from '../../../src/core/units';
import { sentenceOf } from '../../../src/core/words';
import { townSource } from '../supply/made';

const planOn = (water: 'potable' | 'well' | 'tank' | 'recycled'): Plan => ({
  ...emptyPlan('plan'),
  sources: { source: townSource({ x: 0, y: 0 }, { water }) },
});
const namesOf = (plan: Plan) => upkeepTasks(plan).map(({ code }) => code.replace('soilwater.task-', ''));

describe('upkeep of an irrigation', () => {
  it('flushes twice a year, cleans the filter twice, tests the backflow preventer once (common practice, no source)', () => {
    const times = new Map(upkeepTasks(planOn('potable')).map(({ code, times: often }) => [code, often]));
    expect(times.get('soilwater.task-flush')).toBe(2);
    expect(times.get('soilwater.task-filter')).toBe(2);
    expect(times.get('soilwater.task-backflow-test')).toBe(1);
  });

  it('has a first season, a year, and a winter of its own', () => {
    const seasons = new Set(upkeepTasks(emptyPlan('plan')).map(({ season }) => season));
    expect(seasons).toEqual(new Set(['first-season', 'every-year', 'before-frost']));
  });

  it('asks more of water from wells, tanks and purple pipe than of town water', () => {
    const town = namesOf(planOn('potable'));
    const more = (water: 'well' | 'tank' | 'recycled') =>
      namesOf(planOn(water)).filter((name) => !town.includes(name));
    expect(more('well')).toEqual(['sandy-water']);
    expect(more('tank')).toEqual(['tank-clean']);
    expect(more('recycled')).toEqual(['sandy-water', 'recycled-signs']);
  });

  it('says every task in both systems of units, with where it comes from', () => {
    for (const water of ['potable', 'well', 'tank', 'recycled'] as const)
      for (const task of upkeepTasks(planOn(water))) {
        expect(task.source.text.length).toBeGreaterThan(5);
        for (const system of ['us', 'metric'] as const) {
          const said = sentenceOf(task.code)!(task.params, printer(system));
          expect(`${said.what} ${said.why} ${said.next}`).not.toMatch(/NaN|undefined/);
        }
      }
  });

  it('a depth of mulch set by the designer is the depth the owner keeps', () => {
    const plan = { ...planOn('potable'), settings: { mulchDepthM: 0.1016 } };
    const task = upkeepTasks(plan).find(({ code }) => code === 'soilwater.task-mulch')!;
    expect(sentenceOf(task.code)!(task.params, printer('us')).what).toContain('4 in');
  });
});
