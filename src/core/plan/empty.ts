import type { Bed, Plan, WaterSource } from './schema';
import { PLAN_VERSION } from './schema';

/** A plan with nothing drawn. `id` is given by the caller: this room makes none. */
export function emptyPlan(id: string, units: 'us' | 'metric' = 'us'): Plan {
  return {
    format: 'rillsheet-plan',
    version: PLAN_VERSION,
    id,
    project: {
      title: '',
      place: '',
      client: '',
      designer: '',
      licence: '',
      date: '',
      notes: '',
      oneCallNumber: '',
      revisions: [],
    },
    display: { units, paper: null, scaleDenominator: null },
    georeference: null,
    site: {
      soil: null,
      expansiveSoil: false,
      plants: null,
      sun: null,
      region: '',
      climate: {
        place: '',
        latitudeRad: null,
        elevationM: null,
        referenceEtM: null,
        rainM: null,
        source: '',
      },
      wateringWindow: { fromMin: 240, toMin: 480, days: [0, 1, 2, 3, 4, 5, 6] },
      seasonalRatio: 1,
    },
    settings: {},
    beds: {},
    structures: {},
    trees: {},
    plants: {},
    utilities: {},
    sources: {},
    valves: {},
    controllers: {},
    spots: {},
    notes: {},
    dimensions: {},
    lockedPipes: {},
    underlays: {},
    foreign: {},
    readings: {},
  };
}

/** A bed with nothing chosen: every choice is left to the design. */
export function plainBed(id: string, rings: Bed['rings'], name = ''): Bed {
  return {
    id,
    name,
    rings,
    elevationM: null,
    soil: null,
    plants: null,
    sun: null,
    slopeRatio: null,
    slopeTowardRad: null,
    specialArea: false,
    densityFactor: null,
    microclimateFactor: null,
    rootDepthM: null,
    driplineId: null,
    rowSpacingM: null,
    rowStretchRatio: null,
    rowDirectionRad: null,
    layout: null,
    alternative: null,
    maxRunM: null,
    bendRadiusM: null,
    stubUp: null,
    stubUpElevationM: null,
    offsetsM: {},
    edgeOffsetM: null,
    staggered: false,
    treeRings: false,
    lockedRoute: null,
    zoneKey: null,
  };
}

/** A connection of which only the place is known; every measurement is still to be taken. */
export function plainSource(id: string, at: WaterSource['at']): WaterSource {
  return {
    id,
    name: '',
    at,
    elevationM: null,
    water: 'potable',
    staticHeadM: null,
    lowestStaticHeadM: null,
    highestStaticHeadM: null,
    flowTestM3s: null,
    flowTestHeadM: null,
    measuredOn: null,
    measuredBy: null,
    meterSizeM: null,
    serviceDiameterM: null,
    serviceLengthM: null,
    backflowId: null,
    pumpCurve: null,
    pumpCutInHeadM: null,
  };
}
