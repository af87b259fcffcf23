import { sourceOf } from '../supply';
import type { Problem } from '../units';
import type { Rule } from './types';

const COUNTED = { text: 'as drawn: the stations of the controllers on the plan', standing: 'user' } as const;
const OURS = { text: 'ours, stated', standing: 'ours' } as const;

/** Heights: where none was measured, the site is taken as level, which a crew must know. */
export const levelGround: Rule = ({ plan, supply }) => {
  const known =
    Object.keys(plan.spots).length > 0 ||
    [...Object.values(plan.sources), ...Object.values(plan.valves), ...Object.values(plan.beds)].some(
      ({ elevationM }) => elevationM !== null,
    ) ||
    Object.values(plan.beds).some(({ slopeRatio }) => slopeRatio !== null && slopeRatio > 0);
  if (known || supply.zones.length === 0) return [];
  return [{ code: 'review.level-ground-assumed', severity: 'note', where: {}, params: {}, source: OURS }];
};

/** The meter and the service line limit the flow; where neither is said, nothing holds the design to them. */
export const meterUnknown: Rule = ({ plan }): Problem[] => {
  const source = sourceOf(plan);
  if (!source || source.pumpCurve !== null || source.meterSizeM !== null || source.flowTestM3s !== null)
    return [];
  return [
    {
      code: 'review.meter-not-known',
      severity: 'note',
      where: { id: source.id, x: source.at.x, y: source.at.y },
      params: {},
      source: OURS,
    },
  ];
};

/** Valves need a station and a wire; without a controller on the plan neither is counted. Stations must be enough. */
export const controllerStations: Rule = ({ plan, supply }): Problem[] => {
  const controllers = Object.values(plan.controllers);
  if (supply.zones.length === 0) return [];
  if (controllers.length === 0) {
    return [
      {
        code: 'review.no-controller',
        severity: 'note',
        where: {},
        params: { zoneCount: supply.zones.length },
      },
    ];
  }
  const stations = controllers.reduce((sum, controller) => sum + controller.stations, 0);
  if (stations >= supply.zones.length) return [];
  const [first] = controllers.sort((a, b) => (a.id < b.id ? -1 : 1));
  return [
    {
      code: 'review.too-few-stations',
      severity: 'stop',
      where: { id: first!.id, x: first!.at.x, y: first!.at.y },
      params: { zoneCount: supply.zones.length, stationCount: stations },
      value: supply.zones.length,
      limit: stations,
      unit: 'count',
      source: COUNTED,
      mends: [
        {
          words: 'review.mend-add-stations',
          command: 'change-items',
          params: {
            items: [{ map: 'controllers', id: first!.id }],
            changes: { stations: first!.stations + supply.zones.length - stations },
          },
        },
      ],
    },
  ];
};
