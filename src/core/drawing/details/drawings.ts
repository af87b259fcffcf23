import { setting } from '../../catalog';
import type { Design } from '../../design';
import { stapleSpacingM } from '../../takeoff';
import type { Printer } from '../../units';
import { detailText as words } from '../../words';
import { WEIGHT } from '../pen';
import { drawGravel, drawMulch, drawSoil, type Sketch } from './sketch';

/** The details a set may hold. */
export type DetailKey = keyof typeof words.titles;

/** Figures a detail letters, taken from the plan. */
export interface DetailFigures {
  readonly headerSize: string;
  readonly headerDepth: string;
  readonly mulch: string;
  readonly mesh: number;
  readonly regulated: string;
  readonly sleeveSize: string;
  readonly sleeveDepth: string;
  readonly sleevePast: string;
  readonly bend: string;
  readonly rows: string;
  readonly staples: string;
}

/** The figures of one design; the most common where beds differ is the first's. */
export function detailFigures(design: Design, print: Printer): DetailFigures {
  const { settings } = design.plan;
  const zone = design.supply.zones[0];
  const bed = design.beds[0];
  const sleeve = [...design.supply.sleeves, ...design.supply.zones.flatMap((z) => z.sleeves)][0];
  return {
    headerSize: zone?.pipes[0]?.pipe.nominal ?? '3/4 in',
    headerDepth: print.small(setting(settings, 'headerDepthM')),
    mulch: print.small(setting(settings, 'mulchDepthM')),
    mesh: zone?.assembly.filterMesh ?? 150,
    regulated: zone ? print.pressure(zone.assembly.regulatedHeadM) : '',
    sleeveSize: sleeve?.pipe.nominal ?? '2 in',
    sleeveDepth: print.small(setting(settings, 'sleeveDepthM')),
    sleevePast: print.small(setting(settings, 'sleeveBeyondM')),
    bend: bed ? print.small(bed.choice.dripline.minBendRadiusM) : '',
    rows: bed ? print.small(bed.layout.rowSpacingM) : '',
    staples: bed ? print.small(stapleSpacingM(bed.choice.soil, settings)) : '',
  };
}

const water = (s: Sketch, points: readonly (readonly [number, number])[]): void => {
  s.line(points, 'water', 1.3);
  s.line(points, 'paper', 0.75);
};

function stubUp(s: Sketch, f: DetailFigures): void {
  drawSoil(s, 14, 34);
  drawMulch(s, 8.6, 0, 58);
  water(s, [
    [2, 30],
    [26, 30],
    [26, 13],
  ]);
  s.box(24.4, 28.4, 3.2, 3.2, { fill: 'ink' });
  s.path('M0 12.6C8 11.4 16 11 24 11.4', { ink: 'water', widthMm: 0.9 });
  s.path('M28 11.4C36 11 46 11.6 58 12.8', { ink: 'water', widthMm: 0.9 });
  s.box(23.4, 10.2, 5.2, 2.2, { fill: 'ink' });
  s.box(24.8, 12, 2.4, 2.4, { fill: 'ink' });
  s.call(18, 4.4, words.tee(f.headerSize), 24.4, 10.6, 'end');
  s.call(33, 4.4, words.mulchOver(f.mulch), 31, 8.2);
  s.measure([46, 14], [46, 30], f.headerDepth, 'right');
  s.call(31, 24.6, words.goesOut, 30.2, 12);
  s.text(31, 27.8, words.comesBack);
  s.text(3, 27.4, words.header(f.headerSize));
}

function valveAssembly(s: Sketch, f: DetailFigures): void {
  s.text(0, 2.2, words.assemblyNote);
  s.text(0, 5.4, words.filterNote);
  drawSoil(s, 11, 34, [[5, 53]]);
  s.box(5, 11, 48, 23, { fill: 'paper' });
  s.line(
    [
      [5, 34],
      [5, 10.4],
    ],
    'ink',
    0.5,
  );
  s.line(
    [
      [53, 34],
      [53, 10.4],
    ],
    'ink',
    0.5,
  );
  s.box(3.6, 9, 50.8, 1.6, { fill: 'ink' });
  water(s, [
    [0, 21],
    [58, 21],
  ]);
  s.box(9, 17.6, 8.4, 6.4, { fill: 'ink' });
  s.box(11.4, 13.6, 3.6, 4, { fill: 'ink' });
  s.box(22, 18, 11, 6, { fill: 'paper', ink: 'ink', widthMm: WEIGHT.bold });
  for (let i = 0; i < 4; i++) {
    s.line(
      [
        [22 + i * 2.75, 18],
        [24.75 + i * 2.75, 24],
      ],
      'ink',
      WEIGHT.thin,
    );
    s.line(
      [
        [24.75 + i * 2.75, 18],
        [22 + i * 2.75, 24],
      ],
      'ink',
      WEIGHT.thin,
    );
  }
  s.box(25.7, 24, 3.6, 3.4, { fill: 'paper', ink: 'ink', widthMm: WEIGHT.bold });
  s.box(38, 17.6, 10.6, 6.8, { fill: 'paper', ink: 'ink', widthMm: WEIGHT.bold });
  s.line(
    [
      [39.4, 19.4],
      [43.3, 19.4],
      [43.3, 22.6],
      [47.2, 22.6],
    ],
    'ink',
    WEIGHT.bold,
  );
  for (const x of [18.6, 34.2, 49.4]) s.path(`M${x} 19.9L${x + 1.8} 21L${x} 22.1Z`, { fill: 'ink' });
  s.text(13.2, 27.4, words.valve, { anchor: 'middle' });
  s.text(27.5, 16, words.filter(f.mesh), { anchor: 'middle', sizeMm: 1.9 });
  s.text(52, 27.4, words.regulator(f.regulated), { anchor: 'end', sizeMm: 1.9 });
  drawGravel(s, 5.6, 30.6, 46.6);
}

function flushValve(s: Sketch): void {
  s.text(0, 2.2, words.flushNote);
  drawSoil(s, 12, 34, [[16, 42]]);
  drawMulch(s, 8.6, 0, 14);
  drawMulch(s, 8.6, 44, 58);
  s.box(16, 9, 26, 25, { fill: 'paper' });
  s.line(
    [
      [16, 34],
      [16, 8.6],
    ],
    'ink',
    0.5,
  );
  s.line(
    [
      [42, 34],
      [42, 8.6],
    ],
    'ink',
    0.5,
  );
  s.box(14.6, 7.2, 28.8, 1.6, { fill: 'ink' });
  s.path('M0 11.4C6 11 12 11.4 29 11.4C46 11.4 52 11 58 11.4', { ink: 'water', widthMm: 0.9 });
  s.box(26.4, 10.3, 5.2, 2.2, { fill: 'ink' });
  water(s, [
    [29, 12.4],
    [29, 27],
  ]);
  s.path('M26.2 17L31.8 17L26.2 23L31.8 23Z', { fill: 'paper', ink: 'ink', widthMm: WEIGHT.bold });
  s.line(
    [
      [29, 20],
      [34, 20],
    ],
    'ink',
    WEIGHT.bold,
  );
  s.line(
    [
      [34, 17.8],
      [34, 22.2],
    ],
    'ink',
    0.6,
  );
  s.call(44.4, 17.2, words.openToFlush, 34.2, 19);
  s.text(44.4, 27, words.gravel);
  s.line(
    [
      [43.8, 26.4],
      [38, 30],
    ],
    'ink',
    WEIGHT.hair,
  );
  drawGravel(s, 16.6, 30.4, 25);
  s.text(1, 17.2, words.goesOut);
  s.text(1, 20.4, words.comesBack);
}

function airRelief(s: Sketch): void {
  s.text(0, 2.2, words.airNote);
  drawSoil(s, 16, 34, [[20, 38]]);
  s.box(20, 12, 18, 16, { fill: 'paper' });
  s.line(
    [
      [20, 28],
      [20, 10.4],
    ],
    'ink',
    0.5,
  );
  s.line(
    [
      [38, 28],
      [38, 10.4],
    ],
    'ink',
    0.5,
  );
  s.box(18.6, 8.8, 20.8, 1.6, { fill: 'ink' });
  water(s, [
    [0, 31],
    [58, 31],
  ]);
  water(s, [
    [29, 30.4],
    [29, 20],
  ]);
  s.box(26.6, 29.8, 4.8, 2.4, { fill: 'ink' });
  s.path('M25.6 20V16.6A3.4 3.4 0 0 1 32.4 16.6V20Z', { fill: 'paper', ink: 'ink', widthMm: WEIGHT.bold });
  s.disc(29, 17, 1.1, { fill: 'ink' });
  s.disc(29, 12, 0.6, { fill: 'ink' });
  s.call(40.6, 25.6, words.airTo, 31.4, 30.4);
  drawGravel(s, 20.4, 25, 8);
}

function crossing(s: Sketch, f: DetailFigures): void {
  s.text(0, 2.2, words.sleeveNote);
  drawSoil(s, 9, 34, [[14, 44]]);
  s.box(14, 6.4, 30, 4.6, { fill: 'paper', ink: 'ink', widthMm: WEIGHT.mid });
  s.line(
    [
      [24, 6.4],
      [24, 11],
    ],
    'ink',
    WEIGHT.thin,
  );
  s.line(
    [
      [34, 6.4],
      [34, 11],
    ],
    'ink',
    WEIGHT.thin,
  );
  water(s, [
    [0, 26],
    [58, 26],
  ]);
  for (const y of [23.4, 28.6])
    s.line(
      [
        [8, y],
        [50, y],
      ],
      'ink',
      WEIGHT.bold,
      { dashMm: [1.8, 0.9] },
    );
  for (const x of [8, 50])
    s.line(
      [
        [x, 21.8],
        [x, 30.2],
      ],
      'ink',
      0.6,
    );
  s.measure([20, 11], [20, 23.4], f.sleeveDepth, 'right');
  s.measure([44, 19], [50, 19], '', 'above');
  s.text(54.5, 15.8, words.past(f.sleevePast), { anchor: 'end' });
  s.text(29, 32.8, words.sleeve(f.sleeveSize), { anchor: 'middle' });
  s.text(29, 9.5, words.slab, { sizeMm: 1.9, anchor: 'middle' });
}

function staple(s: Sketch, f: DetailFigures): void {
  s.path('M2 8H32A9 9 0 0 1 32 26H2', { ink: 'water', widthMm: 1 });
  const pin = (x: number, y: number, upright: boolean): void => {
    const d = upright
      ? `M${x} ${y - 2.2}V${y + 2.2}M${x - 1.2} ${y - 2.2}H${x + 1.2}M${x - 1.2} ${y + 2.2}H${x + 1.2}`
      : `M${x - 2.2} ${y}H${x + 2.2}M${x - 2.2} ${y - 1.2}V${y + 1.2}M${x + 2.2} ${y - 1.2}V${y + 1.2}`;
    s.path(d, { ink: 'ink', widthMm: 0.45 });
  };
  for (const y of [8, 26]) for (const x of [6, 29]) pin(x, y, true);
  pin(41, 17, false);
  s.measure([6, 12.6], [29, 12.6], f.staples, 'below');
  s.measure([34.5, 9], [34.5, 25], f.rows, 'left');
  s.text(0, 31.8, words.bend(f.bend));
  s.text(0, 35, words.stapleRule(f.staples));
}

/** Draws one detail into a sketch. */
export function drawDetail(key: DetailKey, s: Sketch, f: DetailFigures): void {
  const draw: Readonly<Record<DetailKey, (s: Sketch, f: DetailFigures) => void>> = {
    'stub-up': stubUp,
    'valve-assembly': valveAssembly,
    'flush-valve': flushValve,
    'air-relief': airRelief,
    crossing,
    staple,
  };
  draw[key](s, f);
}
