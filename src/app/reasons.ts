/** Why a figure is what it is, in plain words: how it comes about, and on what that rests. */
export interface Reason {
  readonly name: string;
  readonly how: string;
  readonly source: string;
}

const DRAWN = 'measured on the plan as drawn';
const LAID = 'measured on the tubing as laid';
const COUNTED = 'counted on the tubing as laid';
const SOLVED = 'solved: steady state of the whole network, Todini and Pilati (1988)';

/** Reasons for figures that stand in tables, where many of one kind share one. What was typed in needs none. */
export const REASONS = {
  area: {
    name: 'area',
    how: 'Ground inside the outline, arcs and all, without its holes.',
    source: DRAWN,
  },
  edge: { name: 'length', how: 'From corner to corner; of an arc, along the arc.', source: DRAWN },
  offset: {
    name: 'keep off',
    how: 'Least distance of tubing from the edge: what was set on it, else, fainter, what its kind asks for.',
    source: 'typed in, or the usual distance for the kind of edge: common practice, no source',
  },
  tubing: {
    name: 'tubing',
    how: 'All tubing with emitters of the bed together; plain leads and headers stand among the pipes and in the takeoff.',
    source: LAID,
  },
  emitters: {
    name: 'emitters',
    how: 'One at every emitter spacing of the dripline along each run.',
    source: COUNTED,
  },
  rows: {
    name: 'rows',
    how: 'Distance between rows as laid: what soil and plants ask for, evened out until whole rows fill the bed.',
    source: 'the choice for the bed is traced under Why this tubing',
  },
  reached: {
    name: 'reached',
    how: 'Share of the usable ground that lies within 0.55 of the row spacing of the tubing.',
    source: 'sampled on the tubing as laid; the limit is common practice, no source',
  },
  turns: { name: 'turns', how: 'Bends from one row into the next.', source: COUNTED },
  limit: {
    name: 'longest loop',
    how: 'The longest loop that still holds the wanted evenness at the pressure its valve gives, found by solving ever longer ones.',
    source: 'Keller and Karmeli (1974), on solved flows',
  },
  flow: {
    name: 'flow',
    how: 'The flow of every emitter at the pressure it gets, added up.',
    source: SOLVED,
  },
  lowest: { name: 'lowest', how: 'Pressure at the emitter that gets the least.', source: SOLVED },
  evenness: {
    name: 'evenness of emitters',
    how: 'Mean flow of the quarter of the emitters that give least, over the mean of all.',
    source: 'USDA low-quarter rule, on solved flows',
  },
  regulated: {
    name: 'pressure after the valve assembly',
    how: 'What the regulator in the assembly is set to hold.',
    source: 'the catalogue: typical values, or your own part',
  },
  pipeLength: { name: 'length', how: 'Along the trench.', source: 'measured on the pipes as routed' },
  pipeFlow: { name: 'flow', how: 'The greatest that any one zone sends through it.', source: SOLVED },
  speed: {
    name: 'speed',
    how: 'Flow over the open area of the bore.',
    source: 'continuity; bores from the catalogue',
  },
  curve: {
    name: 'available pressure',
    how: 'From the lowest pressure of the season with nothing running, falling as measured while water ran: with the flow to the power 1.85.',
    source: 'NFPA 291',
  },
  asked: {
    name: 'asked at the connection',
    how: 'The pressure there that brings the emitter worst off to its least pressure, at the zone’s own flow.',
    source: SOLVED,
  },
  usable: {
    name: 'upright line',
    how: 'The flow the zones may count on: the least of what meter, service and measurement allow.',
    source: 'common practice, no source; traced under Figures on the Zones page',
  },
  season: {
    name: 'water by month',
    how: 'The depth each month asks for, and what the whole minutes of the calendar give.',
    source: 'the calendar; its figures, with where they are from, stand in the calculations',
  },
  parts: {
    name: 'quantities',
    how: 'Counted and measured on the design; lengths with the waste set for cutting, whole rolls, sticks and packs as they are sold.',
    source: 'the design itself; the cut list and the calculations show each piece',
  },
  hours: {
    name: 'hours of work',
    how: 'Every kind of work times its hours a piece, added up.',
    source: 'hours a piece are settings of the plan; as given they are common practice, no source',
  },
  wetted: {
    name: 'wetted ground',
    how: 'How wide one emitter wets by each of two models, at the soil, the flow and the depth of the bed.',
    source: 'Schwartzman and Zur (1986), Amin and Ekhmaj (2006); both from memory',
  },
  foreseen: {
    name: 'foreseen',
    how: 'Each row is a run of the whole network with one thing changed: the source’s pressure, or one fault.',
    source: SOLVED,
  },
  ways: {
    name: 'both columns',
    how: 'Each way is designed in full; its figures are its own design’s. The last column is the second less the first.',
    source: 'the two designs',
  },
  yearsEt: {
    name: 'reference ET of the year',
    how: 'The twelve months added up.',
    source: 'what the climate’s source, named above, gives for the months',
  },
  jar: {
    name: 'sand, silt, clay',
    how: 'Each layer’s height over that of all three.',
    source: 'jar test, common practice; classes after the USDA texture triangle',
  },
  leftOver: {
    name: 'left over',
    how: 'The distance as the picture lies, less the known one.',
    source: 'measured on the picture',
  },
} as const satisfies Readonly<Record<string, Reason>>;

export type ReasonKey = keyof typeof REASONS;

/** Names of traced figures whose code alone would not read well. */
export const TRACE_NAMES: Readonly<Record<string, string>> = {
  'soilwater.wetted-diameter-schwartzman-zur': 'wetted across, Schwartzman and Zur',
  'soilwater.wetted-diameter-amin-ekhmaj': 'wetted across, Amin and Ekhmaj',
  'hydraulics.run-limit': 'longest loop',
  'supply.usable-flow': 'flow the zones may count on',
  'supply.zone-flow': 'flow of the zone',
  'supply.required-source-head': 'pressure needed at the connection',
};
