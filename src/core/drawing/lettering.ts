import type { Design } from '../design';
import { type PaperView, type PlanPoint, planToPaper, ringAreaM2 } from '../geometry';
import { printer } from '../units';
import { flagKey, flushKeys, labelRequests } from './annotations';
import type { PaperRect } from './blocks';
import { runFigures } from './figures';
import { findingLabels } from './findingMarks';
import {
  type DimensionRequest,
  type DrawnCandidate,
  dimensionChoice,
  type Ground,
  type LabelRequest,
  labelChoice,
} from './labels';
import { busyBeds, isShown, type Lettering } from './letteringBasis';
import { pathItem, polylineSteps, stroke, WEIGHT } from './pen';
import { type Choice, LabelChooser } from './placement/choose';
import { FreePaper } from './placement/freePaper';
import { inkOf } from './placement/ink';
import { InkIndex } from './placement/inkIndex';
import type { RowGap } from './rowGaps';
import { type RowMarkWanted, rowMarks } from './rowMarks';
import type { Ties } from './ties';
import type { DrawingItem } from './types';

/** Lettering as set, and the keys of the labels for which no clear paper was found. */
export interface SetLettering {
  readonly items: readonly DrawingItem[];
  /** Rows to be left open where a mark is set into them, by run. */
  readonly gaps: ReadonlyMap<string, readonly RowGap[]>;
  readonly leftOut: readonly string[];
}

const LEAST_EDGE_MM = 17;
/** How much further off a label may stand that found no place, in turns. */
const FURTHER = [2, 4];
const MOST_TIMES = 4;

/** Lengths of the straight edges of beds with few of them, each length once, written outside the bed. */
function edgeDimensions(
  design: Design,
  view: PaperView,
  print: (m: number) => string,
): readonly DimensionRequest[] {
  return design.beds.flatMap((bed) => {
    const ring = bed.layout.outline[0]?.outer ?? [];
    if (ring.length > 10 || ringAreaM2(ring) === 0) return [];
    const written = new Set<string>();
    return ring.flatMap((a, i): DimensionRequest[] => {
      const b = ring[(i + 1) % ring.length]!;
      const [from, to] = [planToPaper(a, view), planToPaper(b, view)];
      if (Math.hypot(from.x - to.x, from.y - to.y) < LEAST_EDGE_MM) return [];
      const text = print(Math.hypot(a.x - b.x, a.y - b.y));
      if (written.has(text)) return [];
      written.add(text);
      return [
        {
          key: `edge-${bed.id}-${i}`,
          weight: 26,
          from,
          to,
          text,
          asidesMm: [2.8, 4.4, 6, 8.5, 11],
        },
      ];
    });
  });
}

/** The place an end of a drawn dimension holds on to; null where the item is gone. */
function anchorPoint(design: Design, anchor: Design['plan']['dimensions'][string]['from']): PlanPoint | null {
  if (anchor.kind === 'free') return anchor.at;
  const { plan } = design;
  const bed = plan.beds[anchor.itemId];
  const structure = plan.structures[anchor.itemId];
  if (anchor.kind === 'corner') {
    if (bed) return bed.rings[anchor.ringIndex]?.points[anchor.pointIndex] ?? null;
    return structure?.shape.kind === 'area'
      ? (structure.shape.rings[anchor.ringIndex]?.[anchor.pointIndex] ?? null)
      : null;
  }
  for (const map of [plan.trees, plan.plants, plan.sources, plan.valves, plan.controllers, plan.spots]) {
    const item = (map as Record<string, { at: PlanPoint }>)[anchor.itemId];
    if (item) return item.at;
  }
  return structure?.shape.kind === 'disc' ? structure.shape.at : null;
}

/** Dimensions the designer drew: kept at their own distance aside, moved only where lettering would not be clear. */
function drawnDimensions(
  design: Design,
  view: PaperView,
  print: (m: number) => string,
): readonly DimensionRequest[] {
  return Object.values(design.plan.dimensions)
    .sort((a, b) => (a.id < b.id ? -1 : 1))
    .flatMap((dimension): DimensionRequest[] => {
      const [a, b] = [anchorPoint(design, dimension.from), anchorPoint(design, dimension.to)];
      if (!a || !b) return [];
      const aside = (-dimension.asideM * 1000) / view.scaleDenominator;
      return [
        {
          key: `drawn-${dimension.id}`,
          weight: 320,
          from: planToPaper(a, view),
          to: planToPaper(b, view),
          text: print(Math.hypot(a.x - b.x, a.y - b.y)),
          asidesMm: [0, 2, -2, 4, -4, 7, -7, 10, -10, 14, -14].map((d) => aside + d),
          forced: true,
        },
      ];
    });
}

/** A small triangle on each fixed point that tapes are held to. */
function fixedItems(ties: Ties, view: PaperView, room: PaperRect): readonly DrawingItem[] {
  return (ties.fixed ?? []).flatMap((fixed) => {
    const p = planToPaper(fixed.at, view);
    if (p.x < room.x || p.y < room.y || p.x > room.x + room.widthMm || p.y > room.y + room.heightMm)
      return [];
    return pathItem(
      { layer: 'dimensions', group: `label:fixed-${fixed.mark}` },
      polylineSteps(
        [
          { x: p.x, y: p.y - 1.3 },
          { x: p.x + 1.2, y: p.y + 0.8 },
          { x: p.x - 1.2, y: p.y + 0.8 },
        ],
        true,
      ),
      { fill: 'paper', stroke: stroke('ink', WEIGHT.bold) },
    );
  });
}

/** True where any place a label points at lies in the room: a tile letters only what it shows. */
const seen = (request: LabelRequest, room: PaperRect): LabelRequest => ({
  ...request,
  targets: request.targets.filter(
    (p) =>
      p.x >= room.x + 0.5 &&
      p.y >= room.y + 0.5 &&
      p.x <= room.x + room.widthMm - 0.5 &&
      p.y <= room.y + room.heightMm - 0.5,
  ),
});

/**
 * All lettering of one plan view, set clear of everything already drawn in its room and of itself. On one of several
 * sheets of a plan, runs that begin on another carry their mark here too.
 */
export function letterPlan(
  design: Design,
  view: PaperView,
  room: PaperRect,
  drawn: readonly DrawingItem[],
  ties: Ties,
  isPartOfPlan: boolean,
): SetLettering {
  const print = printer(design.plan.display.units);
  const marks = fixedItems(ties, view, room);
  const ink = inkOf([...drawn, ...marks]);
  const ground: Ground = { free: new FreePaper(room, ink), index: new InkIndex(ink.segments) };
  const lettering: Lettering = { design, view, print, runs: runFigures(design), ties, room };
  const requests = [...findingLabels(design, view, room), ...labelRequests(lettering)]
    .map((request) => seen(request, room))
    .filter((request) => request.targets.length > 0);
  const dimensions = [
    ...drawnDimensions(design, view, print.length),
    ...edgeDimensions(design, view, print.length),
  ].map((request) => dimensionChoice(request, ground));
  const labels = requests.map((request) => labelChoice(request, ground));
  const chooser = placeAll(requests, [...labels, ...dimensions], ground);
  const set = [...labels, ...dimensions].map((_, i) => chooser.candidateOf(i));
  const unset = [...labels, ...dimensions].filter((_, i) => set[i] === null).map((c) => c.key);
  const inRows = rowMarks(
    lettering,
    wantedInRows(lettering, new Set(unset), isPartOfPlan),
    ground.index,
    set.flatMap((candidate) => candidate?.leaders ?? []),
  );
  return {
    items: [...marks, ...set.flatMap((candidate) => candidate?.draw() ?? []), ...inRows.items],
    gaps: inRows.gaps,
    leftOut: unset.filter((key) => !inRows.told.has(key)),
  };
}

/**
 * Runs whose mark is wanted in their row: those of many whose start or flush valve found no clear paper near by, and on
 * one of several sheets those that begin on another.
 */
function wantedInRows(
  l: Lettering,
  unset: ReadonlySet<string>,
  isPartOfPlan: boolean,
): readonly RowMarkWanted[] {
  const busy = busyBeds(l);
  const flushOf = flushKeys(l);
  return l.runs.flatMap((figures): RowMarkWanted[] => {
    const { run, bed } = figures;
    const isBusy = busy.has(bed.id);
    const [start, flush] = [flagKey(run.id), flushOf.get(run.id) ?? ''];
    const wantsStart = isShown(l, run.startsAt) ? isBusy && unset.has(start) : isPartOfPlan;
    return [
      ...(isBusy && unset.has(flush) ? [{ figures, key: flush, nearM: run.flushAtM ?? run.lengthM }] : []),
      ...(wantsStart ? [{ figures, key: start, nearM: 0 }] : []),
    ];
  });
}

/**
 * Chooses a place for every label. Those that find none are offered places further off, on longer leaders, and all
 * are chosen again, until none is left over or the sheet's own size is reached. `requests` are those of the first
 * choices, in their order.
 */
function placeAll(
  requests: readonly LabelRequest[],
  choices: readonly Choice<DrawnCandidate>[],
  ground: Ground,
): LabelChooser<DrawnCandidate> {
  const chooser = new LabelChooser(choices);
  let chosen = chooser.choose();
  for (const further of FURTHER) {
    const left = requests.flatMap((request, i) =>
      chosen[i]! < 0 && request.leader && further <= (request.furthestTimes ?? MOST_TIMES) ? [i] : [],
    );
    if (left.length === 0) break;
    for (const i of left) {
      const request = requests[i]!;
      const wider = { ...request, reachMm: request.reachMm * further, sparseness: further };
      chooser.offer(i, labelChoice(wider, ground).candidates);
    }
    chosen = chooser.choose();
  }
  return chooser;
}
