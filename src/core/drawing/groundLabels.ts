import { innerPoint, planToPaper } from '../geometry';
import { drawingWords as words } from '../words';
import { bedCorners } from './figures';
import type { LabelRequest } from './labels';
import { type Lettering, paper, spread, WEIGHTS } from './letteringBasis';

/** Names of buildings, paving, trees and buried lines, standing on or beside them. */
export function groundNames(l: Lettering): readonly LabelRequest[] {
  const { plan } = l.design;
  const structures = Object.values(plan.structures).map((s): LabelRequest => {
    const isArea = s.shape.kind === 'area' && s.kind !== 'obstacle';
    const ring =
      s.shape.kind === 'area'
        ? (s.shape.rings[0] ?? [])
        : s.shape.kind === 'line'
          ? s.shape.path
          : [s.shape.at];
    const inner = isArea ? innerPoint({ outer: ring, holes: [] }, 0.3) : null;
    return {
      key: `name-${s.id}`,
      of: s.id,
      weight: WEIGHTS.name,
      lines: [{ text: s.name || words.structures[s.kind], ink: 'ink-2' }],
      targets: inner
        ? [planToPaper(inner.at, l.view), ...paper(ring, l.view)]
        : spread(paper(ring, l.view), false),
      reachMm: isArea ? 16 : 14,
      leader: !isArea,
      ...(isArea ? { within: paper(ring, l.view) } : {}),
    };
  });
  const trees = Object.values(plan.trees).map(
    (t): LabelRequest => ({
      key: `name-${t.id}`,
      of: t.id,
      weight: WEIGHTS.name,
      lines: [{ text: t.name || words.legend.tree, ink: 'ink-2' }],
      targets: [planToPaper(t.at, l.view)],
      reachMm: 30,
      leader: true,
    }),
  );
  const utilities = Object.values(plan.utilities).map(
    (u): LabelRequest => ({
      key: `name-${u.id}`,
      of: u.id,
      weight: WEIGHTS.caution,
      lines: [{ text: u.name || words.legend.utility, font: 'narrow-semibold' }, { text: words.locateFirst }],
      targets: spread(paper(u.path, l.view), false),
      reachMm: 40,
      leader: true,
    }),
  );
  const notes = Object.values(plan.notes).map(
    (n): LabelRequest => ({
      key: `note-${n.id}`,
      of: n.id,
      weight: WEIGHTS.note,
      lines: n.text
        .split('\n')
        .slice(0, 8)
        .map((text) => ({ text: text.slice(0, 90) })),
      targets: paper([n.leader ?? n.at], l.view),
      reachMm: 60,
      leader: n.leader !== null,
    }),
  );
  const crossings = l.design.supply.crossings.map(
    (c, i): LabelRequest => ({
      key: `crossing-${i}`,
      of: c.utilityId,
      weight: WEIGHTS.caution,
      lines: [{ text: words.digByHand, font: 'narrow-semibold' }],
      targets: [planToPaper(c.at, l.view)],
      reachMm: 30,
      leader: true,
    }),
  );
  return [...structures, ...trees, ...utilities, ...crossings, ...notes].sort((a, b) =>
    a.key < b.key ? -1 : 1,
  );
}

/** Small figures at the corners that are tied, and the two fixed points themselves. */
export function tieMarks(l: Lettering): readonly LabelRequest[] {
  const corners = l.design.beds.flatMap((bed) =>
    bedCorners(bed).map(
      (at, i): LabelRequest => ({
        key: `corner-${bed.id}-${i}`,
        of: bed.id,
        layer: 'dimensions',
        weight: WEIGHTS.corner,
        lines: [{ text: String(i + 1), sizeMm: 1.9, ink: 'ink-2' }],
        targets: [planToPaper(at, l.view)],
        reachMm: 4,
        leader: false,
      }),
    ),
  );
  const fixed = (l.ties.fixed ?? []).map(
    (f): LabelRequest => ({
      key: `fixed-${f.mark}`,
      layer: 'dimensions',
      weight: WEIGHTS.mark,
      lines: [{ text: f.mark, font: 'narrow-semibold', sizeMm: 2.6 }],
      targets: [planToPaper(f.at, l.view)],
      reachMm: 16,
      leader: true,
    }),
  );
  return [...fixed, ...corners];
}
