import { describe, expect, it } from 'vitest';
import { typicalCatalog } from '../../../src/core/catalog';
import { type Design, designPlan } from '../../../src/core/design';
import { pointAlong } from '../../../src/core/geometry';
import { applyCommand, type Command, emptyPlan, type Plan, plainBed } from '../../../src/core/plan';
import { wettingOfChoice } from '../../../src/core/soilwater';

const FOOT = 0.3048;

function planWith(plants: Plan['plants']): Plan {
  const [widthM, heightM] = [20 * FOOT, 12 * FOOT];
  const points = [
    { x: 0, y: 0 },
    { x: widthM, y: 0 },
    { x: widthM, y: heightM },
    { x: 0, y: heightM },
  ];
  const edges = points.map(() => ({ class: null, offsetM: null, sagittaM: 0 }));
  const bed = plainBed('bed', [{ points, edges }], 'Bed');
  return {
    ...emptyPlan('p'),
    beds: { bed: { ...bed, soil: 'sand' as const, rowSpacingM: 0.6, lockedRoute: null } },
    plants,
  };
}

const plant = (id: string, x: number, y: number) => ({ id, name: id, at: { x, y }, rootBallRadiusM: 0.05 });
const design = (plan: Plan): Design => designPlan(plan, typicalCatalog, { quality: 'finished' });
const dryOnes = (made: Design) => made.findings.filter(({ code }) => code.startsWith('review.root-ball'));

/** Distance from a plant's ball to wet soil by trying every place of the first emitter of every run, 2 mm apart. */
function bruteDryM(made: Design, at: { x: number; y: number }, wettedM: number): number {
  const bed = made.beds[0]!;
  const spacingM = bed.choice.dripline.emitterSpacingM;
  let best = Number.POSITIVE_INFINITY;
  for (const run of bed.layout.runs.filter((one) => one.emittersM.length > 0)) {
    let worst = 0;
    for (let first = 0; first < spacingM; first += 0.002) {
      let nearest = Number.POSITIVE_INFINITY;
      for (let s = first; s <= run.lengthM; s += spacingM) {
        const emitter = pointAlong(run.path, s).at;
        nearest = Math.min(nearest, Math.hypot(emitter.x - at.x, emitter.y - at.y));
      }
      worst = Math.max(worst, nearest);
    }
    best = Math.min(best, worst);
  }
  return best - wettedM / 2 - 0.05;
}

describe('root balls', () => {
  const drawn = design(planWith({}));
  const bed = drawn.beds[0]!;
  const path = bed.layout.runs.find(({ role }) => role === 'loop')!.path;
  const rowY = path
    .slice(1)
    .flatMap((p, i) => (Math.abs(p.x - path[i]!.x) > 2 && Math.abs(p.y - path[i]!.y) < 1e-6 ? [p.y] : []))
    .sort((a, b) => a - b);
  const between = rowY.find((y) => y > 0.5)! + 0.24;
  const plan = planWith({
    on: plant('on', 2, rowY[1]!),
    between: plant('between', 4, between),
  });
  const made = design(plan);

  it('names the plant between wide rows in sand, and not the one on a row', () => {
    expect(dryOnes(made).map(({ where }) => where.id)).toEqual(['between']);
  });

  it('is as dry as brute force over all phases says, by both models', () => {
    const found = dryOnes(made)[0]!;
    const { low, high } = wettingOfChoice(made.beds[0]!.choice).diameterM;
    const at = plan.plants.between!.at;
    expect(Number(found.params.mostM)).toBeCloseTo(bruteDryM(made, at, low), 2);
    expect(Number(found.params.leastM)).toBeCloseTo(Math.max(0, bruteDryM(made, at, high)), 2);
  });

  it.each(['review.mend-add-spur', 'review.mend-shift-row'])(
    'is mended in one press by %s, and the route still passes its check',
    (words) => {
      const mend = dryOnes(made)[0]!.mends!.find((one) => one.words === words)!;
      const mended = applyCommand(plan, { name: mend.command, params: mend.params } as Command);
      expect(mended.ok).toBe(true);
      if (!mended.ok) return;
      const after = design(mended.value.plan);
      expect(dryOnes(after)).toEqual([]);
      expect(after.beds[0]!.layout.verified.passed).toBe(true);
      if (words === 'review.mend-add-spur') {
        const spur = after.beds[0]!.layout.runs.find(({ use }) => use === 'spur')!;
        expect(spur.emittersM.length).toBeGreaterThan(0);
        // The crew cuts it so: the last emitter a barb's length, 3 cm, from the end.
        expect(spur.lengthM - spur.emittersM.at(-1)!).toBeCloseTo(0.03, 3);
        expect(after.takeoff.lines.length).toBeGreaterThan(0);
      }
    },
  );

  it('lays no spur against a boulder, says so, and leaves the route as sound as it was', () => {
    const boulder = {
      id: 'rock',
      name: '',
      kind: 'obstacle' as const,
      shape: { kind: 'disc' as const, at: { x: 3, y: 1.8 }, radiusM: 0.4 },
      clearanceM: 0.2,
    };
    const beside = { ...plant('beside', 3, 2.25), spur: true };
    const made = design({ ...planWith({ beside }), structures: { rock: boulder } });
    expect(
      made.findings.filter(({ code }) => code === 'layout.no-spur').map(({ where }) => where.id),
    ).toEqual(['beside']);
    const [bedMade] = made.beds;
    expect(bedMade!.layout.runs.filter(({ use }) => use === 'spur')).toEqual([]);
    expect(bedMade!.layout.verified.passed).toBe(true);
  });
});
