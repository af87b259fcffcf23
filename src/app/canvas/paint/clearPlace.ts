import type { Design } from '../../../core/design';
import {
  type Box,
  boxesTouch,
  boxHolds,
  growBox,
  type PlanPoint,
  type Polyline,
  pointInRing,
  type ScreenPoint,
  SegmentIndex,
  screenToPlan,
  segmentEntersBox,
} from '../../../core/geometry';
import type { Plan } from '../../../core/plan';
import { spotOfFinding } from '../../state/findings';
import { bedOutline, structureOutline } from '../shape/outline';
import type { Brush } from './brush';

/** Where words may stand: their place on the screen, and which end of them is there. */
export interface WordPlace {
  readonly at: ScreenPoint;
  readonly anchor: 'start' | 'middle' | 'end';
}

/** Lines and marks of a plan that words should keep clear of. */
interface Crowd {
  readonly plan: Plan;
  readonly lines: SegmentIndex;
  readonly marks: readonly PlanPoint[];
}

/** Half of a mark's size, CSS pixels. */
const MARK_PX = 9;
const HIGH_PX = 15;

const crowds = new WeakMap<object, Crowd>();

const closed = (ring: Polyline): Polyline => [...ring, ...ring.slice(0, 1)];

/** Found once for each design: neither it nor its plan ever changes. */
function crowdOf(plan: Plan, design: Design | null): Crowd {
  const known = crowds.get(design ?? plan);
  if (known?.plan === plan) return known;
  const supply = design?.supply;
  const pipes = supply ? [...supply.main, ...supply.zones.flatMap((zone) => zone.pipes)] : [];
  const devices = supply ? [...supply.devices, ...supply.zones.flatMap((zone) => zone.devices)] : [];
  const findings = design?.findings.filter((finding) => finding.severity !== 'note') ?? [];
  const crowd: Crowd = {
    plan,
    lines: SegmentIndex.ofPaths([
      ...Object.values(plan.beds).flatMap((bed) => bedOutline(bed).rings.map(closed)),
      ...Object.values(plan.structures).flatMap((one) => structureOutline(one).rings.map(closed)),
      ...pipes.map((pipe) => pipe.path),
    ]),
    marks: [
      ...[plan.sources, plan.valves, plan.controllers, plan.trees].flatMap((map) =>
        Object.values(map).map(({ at }) => at),
      ),
      ...devices.map((device) => device.at),
      ...findings.flatMap((finding) => (design ? (spotOfFinding(design, finding) ?? []) : [])),
    ],
  };
  crowds.set(design ?? plan, crowd);
  return crowd;
}

/** How many lines of a plan and of its pipes cross a box of ground. */
export const linesIn = (plan: Plan, design: Design | null, box: Box): number =>
  crowdOf(plan, design)
    .lines.touching(box)
    .filter(({ a, b }) => segmentEntersBox(a, b, box)).length;

/** True where a place of the plan lies in a bed. */
export const isInBed = (plan: Plan, at: PlanPoint): boolean =>
  Object.values(plan.beds).some((bed) => {
    const { rings, box } = bedOutline(bed);
    return boxHolds(box, at) && rings.filter((ring) => pointInRing(at, ring)).length % 2 === 1;
  });

/** Of the places where words may stand, in the order they are liked, the first that covers least. */
export function clearestPlace(
  brush: Brush,
  plan: Plan,
  design: Design | null,
  widePx: number,
  places: readonly WordPlace[],
): WordPlace | undefined {
  const crowd = crowdOf(plan, design);
  const markM = MARK_PX / brush.view.pixelsPerM;
  const covered = ({ at, anchor }: WordPlace): number => {
    const left = at.x - (anchor === 'start' ? 0 : anchor === 'end' ? widePx : widePx / 2);
    const low = screenToPlan({ x: left, y: at.y + HIGH_PX / 2 }, brush.view);
    const high = screenToPlan({ x: left + widePx, y: at.y - HIGH_PX / 2 }, brush.view);
    const box: Box = { minX: low.x, minY: low.y, maxX: high.x, maxY: high.y };
    if (!boxesTouch(box, brush.sight)) return 0;
    const lines = linesIn(plan, design, box);
    const marks = crowd.marks.filter((mark) => boxHolds(growBox(box, markM), mark)).length;
    const inBed = isInBed(plan, { x: (low.x + high.x) / 2, y: (low.y + high.y) / 2 }) ? 1 : 0;
    return lines + marks + inBed;
  };
  const counts = places.map(covered);
  return places[counts.indexOf(Math.min(...counts))];
}
