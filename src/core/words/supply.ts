import type { Printer } from '../units';
import { hydraulicsSentences } from './hydraulics';
import { PLANT_NAMES, SOIL_NAMES, SUN_NAMES } from './soilwater';
import { figure, type Sentences, text } from './types';

/** Names of the supply side's figures, by the code of their trace. */
export const SUPPLY_FIGURES: Readonly<Record<string, string>> = {
  'supply.usable-flow': 'Flow the zones may count on',
  'supply.zone-flow': 'Flow of the zone',
  'supply.required-source-head': 'Pressure needed at the connection',
};

type Params = Parameters<typeof text>[0];

/** True where what is said concerns one bed alone. */
const isOfOne = ({ beds }: Params): boolean => !Array.isArray(beds) || beds.length === 1;

/** What a bed is watered by, as a person says it: "high water, full sun, loam". */
const kindOfBed = (params: Params): string =>
  [
    PLANT_NAMES[text(params, 'plants')],
    SUN_NAMES[text(params, 'sun')],
    SOIL_NAMES[text(params, 'soil')],
  ].join(', ');

/** A zone by its number, as its valve is marked: a zone's id is that number with a word before it. */
const zoneOf = (params: Params): string => `zone ${text(params, 'zone').replace(/^zone-/, '')}`;

/** What is wrong with a network, each fault once; a part is not told by the solver's own name for it, which stands nowhere on a plan. */
const faultsOf = (params: Params, print: Printer): string => {
  const codes = new Set(
    text(params, 'issues')
      .split(', ')
      .map((issue) => issue.split(' ')[0] ?? ''),
  );
  return [...codes]
    .flatMap((code) => hydraulicsSentences[code]?.({ id: 'one of its parts' }, print).what ?? [])
    .join(' ');
};

/** What a person reads of zones, routing and the source. */
export const supplySentences: Sentences = {
  'supply.no-source': (params, print) => ({
    what: `No point of connection is drawn; ${print.pressure(figure(params, 'headM'))} is assumed at the valve.`,
    why: 'Whether the site can feed the zones cannot be said.',
    next: 'Place the connection and enter what was measured there.',
  }),
  'supply.pressure-not-measured': (params, print) => ({
    what: `No pressure was measured at the connection; ${print.pressure(figure(params, 'headM'))} is assumed.`,
    why: 'The zones may starve, or the regulator may never open. The sheet leaves the figure blank.',
    next: 'Read static and flowing pressure at the same outlet and enter them.',
  }),
  'supply.no-flow-test': (params, print) => ({
    what: `Only the static pressure is known (${print.pressure(figure(params, 'headM'))}); no flow was tested.`,
    why: 'Static pressure says nothing about what is left once water runs.',
    next: 'Open an outlet, read the pressure while it runs, measure the flow with a bucket and a watch, and enter both.',
  }),
  'supply.test-does-not-fall': (params, print) => ({
    what: `The flow test does not fall: ${print.pressure(figure(params, 'staticHeadM'))} at rest and ${print.pressure(figure(params, 'residualHeadM'))} while it ran.`,
    why: 'Pressure must fall when water runs, so the test cannot be used; the static pressure alone is.',
    next: 'Measure again at one and the same outlet.',
  }),
  'supply.test-below-nothing': (params, print) => ({
    what: `At the lowest pressure of the year (${print.pressure(figure(params, 'lowestHeadM'))}) the tested flow would leave nothing.`,
    why: 'The test cannot be carried over to that pressure; the static pressure alone is used.',
    next: 'Test with less flow, or check the lowest pressure.',
  }),
  'supply.lowest-not-known': (params, print) => ({
    what: `The lowest pressure of the year is not given; the measured ${print.pressure(figure(params, 'headM'))} is used.`,
    why: 'A summer evening may have less.',
    next: 'Ask the water purveyor for the lowest static pressure and enter it.',
  }),
  'supply.no-cut-in': () => ({
    what: 'The pump has a curve but no cut-in pressure.',
    why: 'With a pressure tank the zones run at the cut-in pressure before the pump starts.',
    next: 'Enter the cut-in pressure of the switch.',
  }),
  'supply.zone-alike': (params) => ({
    what: isOfOne(params)
      ? `${text(params, 'beds')} has a valve of its own: ${kindOfBed(params)}.`
      : `${text(params, 'beds')} share a valve: same ${kindOfBed(params)}, slope and tubing.`,
    why: 'One valve gives all its beds the same water.',
    next: 'Give beds a zone name of their own to group them otherwise.',
  }),
  'supply.zone-chosen': (params) => ({
    what: `${text(params, 'beds')} ${isOfOne(params) ? 'hangs on this valve because the designer put it' : 'share a valve because the designer put them'} in zone ${text(params, 'zoneKey')}.`,
    why: 'What the designer chooses stands; review says where it does harm.',
    next: 'Clear the zone name to let the program group them.',
  }),
  'supply.zone-room': (params, print) => ({
    what: `At rated flow the zone takes ${print.flow(figure(params, 'flowM3s'))}${figure(params, 'limitM3s') > 0 ? ` of the ${print.flow(figure(params, 'limitM3s'))} one valve may take` : ''}.`,
    why: 'As many beds are put on a valve as the source and the largest assembly allow, so that there are few valves.',
    next: 'Nothing need be done.',
  }),
  'supply.zone-over-supply': (params, print) => ({
    what: `${text(params, 'beds')} take ${print.flow(figure(params, 'flowM3s'))}; the source may be counted on for ${print.flow(figure(params, 'limitM3s'))}.`,
    why: 'The far emitters would not reach their pressure.',
    next: 'Split the bed or the zone, or choose emitters of lower flow.',
  }),
  'supply.zone-over-assembly': (params, print) => ({
    what: `${text(params, 'beds')} take ${print.flow(figure(params, 'flowM3s'))}; the largest valve assembly takes ${print.flow(figure(params, 'limitM3s'))}.`,
    why: 'No assembly of the parts list holds that flow.',
    next: 'Split the bed or the zone, or add a larger assembly to your parts.',
  }),
  'supply.no-way-to-bed': (params) => ({
    what: `No trench reaches ${text(params, 'bed')} without crossing a building or an obstacle.`,
    why: 'Its header is not drawn; pressures are computed as if it ran straight.',
    next: 'Draw the header by hand where it can pass, or move what stands in the way.',
  }),
  'supply.pipes-cross': (params, print) => {
    const first = text(params, 'first');
    const over = first === '' ? 'the main' : `the header of zone ${first}`;
    return {
      what: `The header of zone ${text(params, 'second')} crosses ${over} without being joined to it.`,
      why: 'Both pipes lie in the same ground there; whoever digs again must know that there are two.',
      next:
        first === ''
          ? `Lay the main at ${print.fine(figure(params, 'mainDepthM'))} and the header over it at ${print.fine(figure(params, 'headerDepthM'))}, and mark the place on the as-built drawing.`
          : 'Lay one below the other, with soil between them, and mark the place on the as-built drawing; or move a valve box so that they part.',
    };
  },
  'supply.not-tried-out': (params) => ({
    what: `Zone ${figure(params, 'zone')} is too large to be tried out with faults and as crews build: ${figure(params, 'places')} places to solve.`,
    why: 'The commissioning page tells nothing of what a crew may find in it beside the readings expected.',
    next: 'Split the zone; so large a one is hard to keep even and to mend.',
  }),
  'supply.no-way-to-assembly': (params) => ({
    what: `No trench reaches the valve assembly of ${zoneOf(params)} from the connection.`,
    why: 'Its main is not drawn and its length is not counted.',
    next: 'Draw the main by hand, or move the assembly.',
  }),
  'supply.run-not-joined': (params) => ({
    what: `A piece of tubing of ${text(params, 'bed')} (${text(params, 'run')}) is joined to nothing.`,
    why: 'It is computed as if a straight piece tied it to the stub-up, which nobody will lay.',
    next: 'Route the bed again, or join the piece by hand.',
  }),
  'supply.zone-refused': (params, print) => ({
    what: `The pressures of ${zoneOf(params)} cannot be solved: ${faultsOf(params, print)}`.trim(),
    why: 'No pressure of this zone can be trusted.',
    next: 'Mend what is named, then look at the zone again.',
  }),
  'supply.zone-not-settled': (params) => ({
    what: `The pressures of ${zoneOf(params)} did not settle in ${figure(params, 'iterationCount')} steps.`,
    why: 'Its figures are the last step, not a result.',
    next: 'Check the source, the valve setting and the heights of this zone.',
  }),
  'supply.setting-too-low': (params, print) => ({
    what: `The regulator setting of ${print.pressure(figure(params, 'settingHeadM'))} leaves the emitter worst off short by ${print.pressure(figure(params, 'shortHeadM'))}.`,
    why: 'More pressure at the source changes nothing behind a regulator.',
    next: 'Choose an assembly with a higher setting, widen or shorten the header, or split the zone.',
  }),
  'supply.flush-not-settled': (params) => ({
    what: `The zone did not settle with the flush valve of ${text(params, 'run')} open.`,
    why: 'Its flushing speed is not known.',
    next: 'Flush this run alone and watch that the water runs clear.',
  }),
  'supply.drawn-pipe-through': (params) => ({
    what: `${text(params, 'pipe')} goes through ${text(params, 'through') || 'ground where no trench may go'}.`,
    why: 'No trench can be dug there. The pipe is drawn and counted as the designer led it.',
    next: 'Lead its bends round, or let the program find the way.',
  }),
  'supply.drawn-pipe-feeds-nothing': (params, print) => ({
    what: `${text(params, 'pipe')} leads ${print.length(figure(params, 'lengthM'))} of pipe to nothing.`,
    why: 'It is dug and bought, holds water that never moves, and must be drained before frost.',
    next: 'Take its last bends away, or lead it on to what it shall feed.',
  }),
  'supply.drawn-pipe-of-no-zone': (params) => ({
    what: `${text(params, 'pipe')} names ${zoneOf(params)}, and there is none.`,
    why: 'It leads no water, is not solved and does not stand on the sheet.',
    next: 'Choose the zone it belongs to, or let it lead to the zone it lies nearest to.',
  }),
  'supply.mend-let-pipe-be-found': () => ({
    what: 'Let the program find this pipe',
    why: 'Takes away the line drawn by hand.',
    next: '',
  }),
  'supply.mend-pipe-nearest-zone': () => ({
    what: 'Give this pipe to the zone it lies nearest to',
    why: 'Clears the zone named for it.',
    next: '',
  }),
};
