import type { Design } from '../design';
import { printer } from '../units';
import type { Block } from './blocks';
import { printedNames } from './names';
import { runBlock, supplyBlock } from './plotsPressure';
import { seasonBlock, sectionBlock } from './plotsWater';
import type { DrawingPage } from './types';

/** Every plot of a design: the supply, each zone's longest run and season, each bed's wetted section. */
export function plotBlocks(design: Design): readonly Block[] {
  const print = printer(design.plan.display.units);
  const names = printedNames(design);
  const { zones } = design.supply;
  const blocks = [
    supplyBlock(design.supply, print.system),
    ...zones.map((zone) => {
      const bed = design.beds.find((each) => each.zoneId === zone.id);
      return bed ? runBlock(zone, bed.choice.dripline.emitter.minHeadM, print.system, names) : null;
    }),
    ...design.schedule.zones.map((zone, i) =>
      seasonBlock(zone, zones.find((each) => each.id === zone.zoneId)?.number ?? i + 1, print.system),
    ),
    ...design.beds
      .filter((bed) => bed.layout.status === 'routed')
      .map((bed) => sectionBlock(bed, print.small)),
  ];
  return blocks.filter((block): block is Block => block !== null);
}

/**
 * Each plot as a page of its own, for the screen: the very drawing that the calculations print.
 *
 * @param widthMm of the page; lettering keeps its size on paper
 */
export const drawPlots = (design: Design, widthMm: number): readonly DrawingPage[] =>
  plotBlocks(design).map((block) => {
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
