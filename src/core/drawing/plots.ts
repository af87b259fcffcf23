import type { Design } from '../design';
import { printer } from '../units';
import type { Block } from './blocks';
import { printedNames } from './names';
import { runBlock, supplyBlock } from './plotsPressure';
import { seasonBlock, sectionBlock } from './plotsWater';
import { wettedPlanBlock } from './plotsWetted';
import type { DrawingPage } from './types';

type Plot = readonly [key: string, draw: () => Block | null];

function plotsOf(design: Design): readonly Plot[] {
  const print = printer(design.plan.display.units);
  const names = printedNames(design);
  const { zones } = design.supply;
  return [
    ['plot-supply', () => supplyBlock(design.supply, print.system)],
    ...zones.map((zone): Plot => {
      const bed = design.beds.find((each) => each.zoneId === zone.id);
      const leastHeadM = bed?.choice.dripline.emitter.minHeadM;
      return [
        `plot-run-${zone.id}`,
        () => (leastHeadM === undefined ? null : runBlock(zone, leastHeadM, print.system, names)),
      ];
    }),
    ...design.schedule.zones.map((zone, i): Plot => {
      const number = zones.find((each) => each.id === zone.zoneId)?.number ?? i + 1;
      return [`plot-season-${zone.zoneId}`, () => seasonBlock(zone, number, print.system)];
    }),
    ...design.beds
      .filter((bed) => bed.layout.status === 'routed')
      .flatMap((bed): Plot[] => [
        [`plot-section-${bed.id}`, () => sectionBlock(bed, print.small)],
        [`plot-wetted-${bed.id}`, () => wettedPlanBlock(bed, print.small)],
      ]),
  ];
}

/**
 * The plots of a design: the supply, each zone's longest run and season, each bed's wetted ground in section and on its plan.
 *
 * @param keyStart only those whose key begins so are drawn; "plot-run-", "plot-section-bed-a"; all where it is empty
 */
export const plotBlocks = (design: Design, keyStart = ''): readonly Block[] =>
  plotsOf(design)
    .filter(([key]) => key.startsWith(keyStart))
    .map(([, draw]) => draw())
    .filter((block): block is Block => block !== null);

/**
 * Each plot as a page of its own, for the screen: the very drawing that the calculations print.
 *
 * @param widthMm of the page; lettering keeps its size on paper
 * @param keyStart only those whose key begins so
 */
export const drawPlots = (design: Design, widthMm: number, keyStart = ''): readonly DrawingPage[] =>
  plotBlocks(design, keyStart).map((block) => {
    const parts = block.parts(widthMm);
    let y = 0;
    const items = parts.flatMap((part) => {
      const drawn = part.draw(0, y);
      y += part.heightMm;
      return drawn;
    });
    return {
      key: block.key,
      title: block.title,
      label: '',
      widthMm,
      heightMm: y,
      scaleDenominator: null,
      items,
    };
  });
