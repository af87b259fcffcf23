import type { Zone } from '../supply';
import { HEAD_M_PER_PSI, type Problem, type Source } from '../units';
import { flushRunMeant, stubUpBedMeant } from './placeMeant';
import { readingPlace } from './readingPlace';
import type { ReviewedBed, Rule } from './types';

/** A reading within 2 psi or a tenth of the prediction agrees with it, whichever is wider; a flow within a tenth. */
const HEAD_TOLERANCE_M = 2 * HEAD_M_PER_PSI;
const TOLERANCE_RATIO = 0.1;
const PRACTICE: Source = {
  text: 'plus or minus 2 psi or 10 percent; common practice, no source',
  standing: 'common practice',
};

/** Pressure predicted at a place named on the commissioning page; null where the place is not one of them, or could be several. */
function predictedHeadM(zone: Zone, place: string, beds: readonly ReviewedBed[]): number | null {
  const nodeHeadM = (nodeId: string | undefined): number | null => {
    const index = zone.network.nodes.findIndex((node) => node.id === nodeId);
    const node = zone.network.nodes[index];
    const headM = zone.solution.headM[index];
    return node === undefined || headM === undefined ? null : headM - node.elevationM;
  };
  if (zone.solution.status !== 'settled') return null;
  switch (readingPlace(place)) {
    case 'regulator-inlet':
      return nodeHeadM(zone.readAt.regulatorInlet);
    case 'regulator-outlet':
      return nodeHeadM(zone.readAt.afterRegulator);
    case 'flush':
      return nodeHeadM(flushNodeOf(zone, flushRunMeant(place, zone, beds)));
    case 'stub-up':
      return nodeHeadM(stubUpNodeOf(zone, stubUpBedMeant(place, zone, beds)));
    case 'connection':
      return zone.availableSourceHeadM;
    default:
      return null;
  }
}

const flushNodeOf = ({ tubing }: Zone, runId: string | null): string | undefined =>
  tubing.flush.find((flush) => flush.runId === runId)?.nodeId;
const stubUpNodeOf = ({ tubing }: Zone, bedId: string | null): string | undefined =>
  tubing.stubUps.find((stubUp) => stubUp.bedId === bedId)?.nodeId;

/**
 * Field readings typed back in, held against what was predicted at the same place: agreeing ones become the as-built
 * record, others say by how much they are off. Zone by `zoneKey`, id or number.
 */
export const fieldReadings: Rule = ({ plan, supply, beds }) =>
  Object.values(plan.readings)
    .sort((a, b) => (a.id < b.id ? -1 : 1))
    .flatMap((reading): readonly Problem[] => {
      const zone = supply.zones.find(
        ({ id, number, zoneKey }) =>
          reading.zoneKey !== null && [id, String(number), zoneKey].includes(reading.zoneKey),
      );
      if (zone === undefined) return [];
      const compare = (
        unit: 'm of head' | 'm3/s',
        found: number | null,
        predicted: number | null,
        least: number,
      ): readonly Problem[] => {
        if (found === null || predicted === null) return [];
        const allowed = Math.max(least, TOLERANCE_RATIO * Math.abs(predicted));
        const agrees = Math.abs(found - predicted) <= allowed * (1 + 1e-9);
        const isHead = unit === 'm of head';
        return [
          {
            code: agrees
              ? isHead
                ? 'review.pressure-agrees'
                : 'review.flow-agrees'
              : isHead
                ? 'review.pressure-differs'
                : 'review.flow-differs',
            severity: agrees ? 'note' : 'warn',
            where: { id: zone.id },
            params: {
              zone: String(zone.number),
              place: reading.place,
              on: reading.on,
              by: reading.by,
              found,
              predicted,
              allowed,
            },
            value: found,
            limit: predicted,
            unit,
            source: PRACTICE,
          },
        ];
      };
      return [
        ...compare('m of head', reading.headM, predictedHeadM(zone, reading.place, beds), HEAD_TOLERANCE_M),
        ...compare('m3/s', reading.flowM3s, zone.flowM3s, 0),
      ];
    });
