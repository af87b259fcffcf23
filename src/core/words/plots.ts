interface Pairs {
  readonly pairCount: number;
  readonly overlapCount: number;
}

const meeting = ({ overlapCount, pairCount }: Pairs): string => `${overlapCount} of ${pairCount} pairs`;

/** Words of the plots on the calculations sheet. */
export const plotWords = {
  season: (zone: number): string => `Water by month, zone ${zone}`,
  seasonNote: 'Bars: depth to give. Squares: what the whole minutes give.',
  section: (mark: string): string => `Wetted ground across the rows, bed ${mark}`,
  sectionNote:
    'Full line and dashes: two models, both from memory and neither fitted to mulched beds; look after the first long run.',
  wetted: (mark: string): string => `Wetted ground on the plan, bed ${mark}`,
  wettedNote: (of: {
    readonly low: string;
    readonly high: string;
    readonly along: Pairs;
    readonly acrossNarrow: Pairs;
    readonly acrossWide: Pairs;
  }): string =>
    `Washed: the drier of two models, ${of.low} across; lined: the wetter, ${of.high}; both from memory. Strokes: ground between neighbouring emitters that may stay dry by the drier one, where the rows lie worst to each other. Along the rows ${meeting(of.along)} meet; across, at that worst, ${meeting(of.acrossNarrow)} by the drier and ${meeting(of.acrossWide)} by the wetter. Neither model is fitted to mulched beds: look after the first long run.`,
  run: (zone: number, run: string): string => `Pressure along the longest run, zone ${zone}, ${run}`,
  runNote: 'Dashes: the least pressure its emitters want.',
  supply: 'Pressure at the connection against flow',
  supplyNote:
    'Line: what the source gives. Open squares: where each zone runs on it. Full squares: what the zone needs there, by number; the line between is its margin. Upright dashes: the flow zones may count on.',
  month: 'month',
  alongRun: (unit: string): string => `along the run, ${unit}`,
  flow: (unit: string): string => `flow, ${unit}`,
  pressure: (unit: string): string => `pressure, ${unit}`,
  depth: (unit: string): string => `water, ${unit}`,
} as const;
