import type { Params } from '../units';
import { figure, type Sentences, text } from './types';

const FAILURES: Readonly<Record<string, string>> = {
  'not-finite': 'a point of it is no number',
  empty: 'it holds no tubing',
  crossing: 'it crosses itself',
  separation: 'two passes lie too near each other',
  clearance: 'it comes nearer an edge than its offset',
  outside: 'it leaves the bed',
  bend: 'a bend is tighter than the tubing bears',
  hairpin: 'it doubles back on itself',
  'open-loop': 'a loop does not come back to its tee',
  'loose-end': 'an end of tubing meets no fitting',
  unfed: 'a piece of tubing is joined to nothing that brings water',
  'stray-fitting': 'a fitting lies off its tubing',
};

/** Names of the choices of layout, by key, as the list of alternatives shows them. */
export const LAYOUT_NAMES: Readonly<Record<string, string>> = {
  loop: 'one closed loop',
  'loop-stretched': 'one closed loop, rows stretched',
  'loop-across': 'one closed loop, rows the other way',
  'loop-closer': 'closed loop, rows a little closer',
  'loop-too-long': 'one closed loop beyond the length limit',
  'loop-cut': 'closed loops side by side, rows in line',
  'loop-way-1': 'closed loops, laid another way',
  'loop-way-2': 'closed loops, laid a third way',
  'loop-way-3': 'closed loops, laid a fourth way',
  'loop-way-4': 'closed loops, laid a fifth way',
  'loop-way-5': 'closed loops, laid a sixth way',
  'loop-turned-1': 'closed loops, rows another way',
  'loop-turned-2': 'closed loops, rows a third way',
  'loop-centre-row-across': 'closed loop with a centre row, rows the other way',
  'loop-centre-row': 'closed loop with a centre row',
  'strip-1': 'one row, flushed at its end',
  'strip-2': 'two rows as a loop',
  'strip-3': 'two rows and a centre row',
  'laterals-end-fed': 'rows between two headers',
  'laterals-centre-fed': 'rows fed from a middle header',
  contour: 'loop following the outline',
  'contour-even': 'loop following the ribbon, rows evenly shared',
  'contour-bent': 'closed loop, rows along the bends of the bed',
  locked: 'route drawn by hand',
  strip: 'a strip',
  laterals: 'rows on headers',
};

const layoutName = (params: Params, key: string): string =>
  LAYOUT_NAMES[text(params, key)] ?? text(params, key);

function failuresOf(params: Params): string {
  const failures = params.failures;
  const codes = Array.isArray(failures) ? (failures as readonly string[]) : [];
  return codes.map((code) => FAILURES[code] ?? code).join('; ');
}

/** What a person reads of routing. */
export const layoutSentences: Sentences = {
  'layout.repeated-points': (params) => ({
    what: `The outline holds ${figure(params, 'count')} repeated points; they were dropped.`,
    why: 'The bed is laid as if they were not there.',
    next: 'Nothing need be done. Draw the outline again if its shape looks wrong.',
  }),
  'layout.split-outline': (params) => ({
    what: `The outline crosses itself; it was taken for ${figure(params, 'count')} beds.`,
    why: 'Each part gets its own tubing and its own stub-up.',
    next: 'Move the corners apart if one bed was meant.',
  }),
  'layout.hole-outside': (params) => ({
    what: `Hole ${figure(params, 'index')} lies outside the bed; it was left out.`,
    why: 'It takes no ground from the bed.',
    next: 'Move the hole into the bed, or delete it.',
  }),
  'layout.no-area': () => ({
    what: 'The outline encloses no ground.',
    why: 'There is nothing to water.',
    next: 'Draw the bed again with at least three corners that do not lie on one line.',
  }),
  'layout.too-small': (params, print) => ({
    what: `Of ${print.area(figure(params, 'areaM2'))} no ground is left for tubing once every edge is kept clear.`,
    why: 'Tubing would come nearer an edge than its offset.',
    next: 'Lower the offsets of this bed, or water it by hand.',
  }),
  'layout.too-narrow': () => ({
    what: 'The ground left between the offsets is too narrow for tubing to turn round in, and no single row passes.',
    why: 'A bend tighter than the tubing bears would kink it.',
    next: 'Lower the offsets or the bend radius of this bed.',
  }),
  'layout.too-complex': () => ({
    what: 'No route was found within the work allowed for one bed.',
    why: 'The outline is very intricate, or the bed very large.',
    next: 'Simplify the outline, or draw the bed as two or more.',
  }),
  'layout.no-route': (params) => ({
    what: `No route passed the check; the best (${layoutName(params, 'key')}) fails: ${failuresOf(params)}.`,
    why: 'A route that fails is not shown as good.',
    next: 'Set a row direction, another layout or wider spacing for this bed, or draw the route by hand.',
  }),
  'layout.no-spur': (params) => ({
    what: `No spur could be laid to plant ${text(params, 'plant')}.`,
    why: 'It is nearer the row than two fittings are long, or the spur would come too near another row or an edge.',
    next: 'Shift the row toward the plant, or move the plant.',
  }),
  'layout.locked-fails': (params) => ({
    what: `The route drawn by hand is kept but does not pass the check: ${failuresOf(params)}.`,
    why: 'It cannot be laid as drawn, or will not water as meant.',
    next: 'Move its points, or unlock it to have the bed routed again.',
  }),
  'layout.choice-not-possible': (params) => ({
    what: `The layout asked for (${layoutName(params, 'asked')}) is not possible here; ${layoutName(params, 'taken')} was taken.`,
    why: 'Routed that way, it does not pass the check or does not fit the ground.',
    next: 'Choose another layout for the bed, or change its spacing.',
  }),
  'layout.coverage-short': (params, print) => ({
    what: `Tubing reaches ${print.percent(figure(params, 'coveredRatio'))} of the usable ground; ${print.area(figure(params, 'dryM2'))} stay further than 0.55 of a row from it.`,
    why: 'Plants there may stay dry.',
    next: 'Look at the marked spots: plant there what needs little water, add a spur, or choose another layout.',
  }),
  'layout.gap-wide': (params, print) => ({
    what: `One spot lies ${print.small(figure(params, 'gapM'))} from the nearest tubing (rows are ${print.small(figure(params, 'rowSpacingM'))} apart).`,
    why: 'A plant just there may stay dry.',
    next: 'Look at the marked spot; a plant within reach of the nearest emitter is fine.',
  }),
  'layout.run-too-long': (params, print) => ({
    what: `A loop is ${print.tubing(figure(params, 'lengthM'))} long; ${print.tubing(figure(params, 'limitM'))} is the longest wanted.`,
    why: 'The emitters furthest from the tee get less water than the first.',
    next: 'Raise the limit, or choose tubing with lower flow or wider spacing.',
  }),
  'layout.several-loops': (params, print) => ({
    what: `The bed takes ${figure(params, 'count')} loops, the longest ${print.tubing(figure(params, 'longestM'))}.`,
    why: 'The ground falls apart between its edges, or one loop would be too long to water evenly.',
    next: 'Each loop has its own tee on the header.',
  }),
  'layout.several-feeds': (params, print) => ({
    what: `Ground apart from the rest is fed by ${figure(params, 'count')} plain leads of its own, ${print.tubing(figure(params, 'lengthM'))} in all.`,
    why: 'Tubing cannot pass the narrow place between without coming too near an edge.',
    next: 'Check where each lead comes up; the header must reach it.',
  }),
  'layout.rows-past-wetted': (params, print) => ({
    what: `Rows lie ${print.small(figure(params, 'rowSpacingM'))} apart; an emitter wets about ${print.small(figure(params, 'wettedDiameterM'))} across.`,
    why: 'By the lesser of two wetting models the ground between rows does not join below the surface. The models are rough and disagree with each other and with usual spacings.',
    next: 'Take an alternative with closer rows, or dig after a first run and see how far it wets.',
  }),
  'layout.stretch-held-back': (params, print) => ({
    what: `Rows ${print.small(figure(params, 'rowSpacingM'))} apart would take ${print.tubing(figure(params, 'lengthM'))} of tubing.`,
    why: `An emitter wets about ${print.small(figure(params, 'wettedDiameterM'))} across by the lesser of two wetting models, so the ground between such rows might not join. The models are rough and disagree with each other and with usual spacings.`,
    next: 'It is among the alternatives; take it where the soil is known to spread water further.',
  }),
  'layout.rows-stretched': (params, print) => ({
    what: `Rows lie ${print.small(figure(params, 'rowSpacingM'))} apart instead of ${print.small(figure(params, 'nominalM'))}, ${print.percent(figure(params, 'stretchRatio'))} more.`,
    why: 'It saves a pair of rows and the wetted rows still overlap.',
    next: 'Set the stretch of this bed to nothing to keep the spacing exactly.',
  }),
  'layout.long-lead': (params, print) => ({
    what: `The tubing begins ${print.tubing(figure(params, 'lengthM'))} from its stub-up.`,
    why: 'A plain lead of that length joins them; it waters nothing.',
    next: 'Move the stub-up along the edge to shorten it.',
  }),
  'layout.rule-of-thumb': (params, print) => {
    const differenceM = figure(params, 'differenceM');
    const more = differenceM >= 0 ? 'more' : 'less';
    return {
      what: `${print.tubing(figure(params, 'lengthM'))} of tubing; the rule of thumb (area over row spacing) says ${print.tubing(figure(params, 'thumbM'))}, ${print.tubing(Math.abs(differenceM))} ${more} as routed.`,
      why:
        differenceM >= 0
          ? 'Rows along the edges, turns and an even number of rows take more than the area alone.'
          : 'Ground within the offsets of the edges carries no tubing.',
      next: 'Order by the routed length.',
    };
  },
};
