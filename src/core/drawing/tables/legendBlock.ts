import type { Design } from '../../design';
import type { PaperPoint } from '../../geometry';
import { drawingWords, sheetText as words } from '../../words';
import { type Block, LINE_MM, type Part, paragraphParts } from '../blocks';
import { devicesOf } from '../devices';
import { hollowItems, sleeveItems } from '../lineTypes';
import { marksFlushShortly } from '../names';
import { pathItem, polylineSteps, rectSteps, SIZE, stroke, textItem, WEIGHT } from '../pen';
import { runMarkItems } from '../runMarks';
import { type SymbolKey, symbolItems } from '../symbols';
import type { DrawingItem, PathStep } from '../types';

const MARK = { layer: 'tables', group: 'legend' };
type LegendKey = keyof typeof words.legend;

/** One line of the legend: a sample 13 mm wide, and what it is. */
interface Entry {
  readonly text: string;
  readonly draw: (x: number, y: number) => readonly DrawingItem[];
}

const wide = 12;
const span = (x: number, y: number): readonly PaperPoint[] => [
  { x, y },
  { x: x + wide, y },
];
const ticks = (x: number, y: number, every: number, up: number, down = 0): readonly PathStep[] =>
  Array.from({ length: Math.floor(wide / every) }, (_, i): readonly PathStep[] => [
    ['M', x + (i + 0.5) * every, y - up],
    ['L', x + (i + 0.5) * every, y + down],
  ]).flat();

/** Samples of the line types, drawn as on the plan. */
const LINES: Partial<Record<LegendKey, (x: number, y: number) => readonly DrawingItem[]>> = {
  'bed-edge': (x, y) => [pathItem(MARK, polylineSteps(span(x, y)), { stroke: stroke('ink', WEIGHT.bold) })],
  foundation: (x, y) => [
    pathItem(MARK, rectSteps(x, y - 0.8, wide, 1.6), { fill: 'paper', stroke: stroke('ink', WEIGHT.bold) }),
    pathItem(MARK, ticks(x, y, 3.4, 0.8, 0.8), { stroke: stroke('ink', WEIGHT.mid) }),
  ],
  paving: (x, y) => [
    pathItem(MARK, [...polylineSteps(span(x, y - 0.3)), ...polylineSteps(span(x, y + 0.3))], {
      stroke: stroke('ink-2', WEIGHT.thin),
    }),
    pathItem(MARK, ticks(x, y + 0.3, 5, 0, 1.1), { stroke: stroke('ink-2', WEIGHT.hair) }),
  ],
  dripline: (x, y) => [
    pathItem(MARK, polylineSteps(span(x, y)), { stroke: stroke('water', WEIGHT.bold) }),
    pathItem(MARK, ticks(x, y, 2.2, 0.85), { stroke: stroke('water', WEIGHT.hair) }),
  ],
  blank: (x, y) => [
    pathItem(MARK, polylineSteps(span(x, y)), { stroke: stroke('water', 0.3, { dashMm: [1.6, 0.7] }) }),
  ],
  header: (x, y) => hollowItems([{ mark: MARK, points: span(x, y), core: false }]),
  main: (x, y) => hollowItems([{ mark: MARK, points: span(x, y), core: true }]),
  sleeve: (x, y) => [
    ...hollowItems([{ mark: MARK, points: span(x, y), core: false }]),
    ...sleeveItems(MARK, [
      { x: x + 2.5, y },
      { x: x + wide - 2.5, y },
    ]),
  ],
  utility: (x, y) => [
    pathItem(MARK, polylineSteps(span(x, y)), {
      stroke: stroke('ink', WEIGHT.bold, { dashMm: [4, 1.2, 0.01, 1.2, 0.01, 1.2], cap: 'round' }),
    }),
  ],
  fence: (x, y) => [
    pathItem(MARK, polylineSteps(span(x, y)), { stroke: stroke('ink', WEIGHT.mid) }),
    pathItem(MARK, ticks(x, y, 4, 0.9, 0.9), { stroke: stroke('ink', WEIGHT.bold) }),
  ],
  wire: (x, y) => [
    pathItem(MARK, polylineSteps(span(x, y)), {
      stroke: stroke('ink-2', WEIGHT.thin, { dashMm: [2.2, 0.7, 0.4, 0.7] }),
    }),
  ],
  match: (x, y) => [
    pathItem(MARK, polylineSteps(span(x, y)), { stroke: stroke('ink', 0.45, { dashMm: [5, 1, 1, 1] }) }),
  ],
  plant: (x, y) => [
    pathItem(
      MARK,
      [
        ['M', x + 4.8, y],
        ['C', x + 4.8, y - 1.6, x + 7.2, y - 1.6, x + 7.2, y],
        ['C', x + 7.2, y + 1.6, x + 4.8, y + 1.6, x + 4.8, y],
      ],
      {
        stroke: stroke('ink-2', WEIGHT.thin, { dashMm: [0.3, 0.7], cap: 'round' }),
      },
    ),
  ],
  fixed: (x, y) => [
    pathItem(
      MARK,
      polylineSteps(
        [
          { x: x + 6, y: y - 1.3 },
          { x: x + 7.2, y: y + 0.8 },
          { x: x + 4.8, y: y + 0.8 },
        ],
        true,
      ),
      {
        fill: 'paper',
        stroke: stroke('ink', WEIGHT.bold),
      },
    ),
  ],
  'flush-of-run': (x, y) => [
    ...symbolItems(MARK, 'flush-valve', { x: x + 6, y }, 3.4),
    textItem(MARK, { x: x + 8.6, y: y + 0.8 }, 'A1', { sizeMm: SIZE.note }),
  ],
  'run-mark': (x, y) => runMarkItems(MARK, { x: x + 2.7, y }, 'A1'),
};

const symbol = (key: SymbolKey) => (x: number, y: number) => symbolItems(MARK, key, { x: x + 6, y }, 3.4);

function lineEntry(key: LegendKey): Entry {
  return { text: words.legend[key], draw: LINES[key] ?? (() => []) };
}

/** What this plan really shows, lines before symbols; nothing else is listed. */
function entries(design: Design, tiled: boolean): readonly Entry[] {
  const { plan, supply } = design;
  const structures = Object.values(plan.structures);
  const runs = design.beds.flatMap((bed) => bed.layout.runs);
  const joins = design.beds.flatMap((bed) => bed.layout.joins);
  const has = (kind: string): boolean => structures.some((s) => s.kind === kind);
  const sleeves = [...supply.sleeves, ...supply.zones.flatMap((z) => z.sleeves)];
  const used: readonly [boolean, LegendKey][] = [
    [design.beds.length > 0, 'bed-edge'],
    [has('building'), 'foundation'],
    [has('paving'), 'paving'],
    [has('fence'), 'fence'],
    [runs.some((run) => run.emittersM.length > 0), 'dripline'],
    [runs.some((run) => run.emittersM.length === 0), 'blank'],
    [supply.zones.some((z) => z.pipes.length > 0), 'header'],
    [supply.main.length > 0, 'main'],
    [sleeves.length > 0, 'sleeve'],
    [Object.keys(plan.utilities).length > 0, 'utility'],
    [supply.wires.length > 0, 'wire'],
    [tiled, 'match'],
    [Object.keys(plan.plants).length > 0, 'plant'],
    [design.beds.length > 0, 'fixed'],
    [runs.length > 0, 'run-mark'],
  ];
  const kinds = [...new Set(devicesOf(supply).map((d) => d.kind))];
  const symbols: readonly Entry[] = [
    ...kinds.map((kind) =>
      kind === 'flush-valve' && marksFlushShortly(design)
        ? lineEntry('flush-of-run')
        : { text: drawingWords.devices[kind], draw: symbol(kind) },
    ),
    ...(design.beds.some((b) => b.layout.status === 'routed')
      ? [{ text: words.legend['stub-up'], draw: symbol('stub-up') }]
      : []),
    ...(joins.some((j) => j.fitting === 'splice' || j.fitting === 'coupling')
      ? [{ text: words.legend.splice, draw: symbol('splice') }]
      : []),
    ...(structures.some((s) => s.kind === 'obstacle' && s.shape.kind === 'disc')
      ? [{ text: words.legend.boulder, draw: symbol('boulder') }]
      : []),
    ...(Object.keys(plan.trees).length > 0 ? [{ text: words.legend.tree, draw: symbol('tree-trunk') }] : []),
    ...(supply.zones.length > 0 ? [{ text: words.legend.flow, draw: symbol('flow') }] : []),
  ];
  return [...used.filter(([is]) => is).map(([, key]) => lineEntry(key)), ...symbols];
}

const ROW_MM = 4.5;

/** What a legend has to explain beside what the plan holds. */
export interface LegendNeeds {
  readonly showsTicks: boolean;
  readonly isTiled: boolean;
  readonly hasRowMarks: boolean;
}

/** The legend in as many columns as fit, and what the ticks mean. */
export function legendBlock(design: Design, needs: LegendNeeds): Block {
  const list = entries(design, needs.isTiled);
  return {
    key: 'legend',
    title: words.tables.legend,
    head: () => [],
    parts: (widthMm) => {
      const columns = widthMm > 80 ? 2 : 1;
      const perColumn = Math.ceil(list.length / columns);
      const each = widthMm / columns;
      const rows = Array.from(
        { length: perColumn },
        (_, row): Part => ({
          heightMm: ROW_MM,
          draw: (x, y) =>
            Array.from({ length: columns }, (_c, column) => list[column * perColumn + row]).flatMap(
              (entry, column) => {
                if (!entry) return [];
                const left = x + column * each;
                return [
                  ...entry.draw(left, y + ROW_MM / 2),
                  textItem({ layer: 'tables' }, { x: left + 14.5, y: y + ROW_MM / 2 + 0.8 }, entry.text, {
                    sizeMm: SIZE.note,
                  }),
                ];
              },
            ),
        }),
      );
      return [
        ...rows,
        { heightMm: LINE_MM * 0.3, draw: () => [] },
        ...[
          needs.showsTicks ? words.legendTicks : words.legendNoTicks,
          ...(needs.hasRowMarks ? [words.legendRowMarks] : []),
        ].flatMap((text) => paragraphParts({ layer: 'tables' }, text, widthMm)),
      ];
    },
  };
}
