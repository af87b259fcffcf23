import type { Design } from '../../../core/design';
import { distanceM, type PlanPoint } from '../../../core/geometry';
import type { Dimension, Plan } from '../../../core/plan';
import type { Printer, Severity } from '../../../core/units';
import type { SymbolName } from '../../look/symbolShapes';
import { spotOfFinding } from '../../state/findings';
import { anchorPoint } from '../shape/anchor';
import { type Brush, onScreen, placeOnScreen, WEIGHT_PX } from './brush';
import { paintLetters } from './letters';
import { paintSymbol } from './symbol';

export const SEVERITY_SYMBOLS: Readonly<Record<Severity, SymbolName>> = {
  stop: 'problem-stop',
  warn: 'problem-check',
  note: 'problem-note',
};
export const SEVERITY_INKS = { stop: 'stop', warn: 'check', note: 'note' } as const;

/** Dimensions and notes: the words a designer put on the plan. */
export function paintAnnotations(brush: Brush, plan: Plan, printer: Printer): void {
  onScreen(brush);
  for (const dimension of Object.values(plan.dimensions)) paintDimension(brush, plan, dimension, printer);
  for (const note of Object.values(plan.notes)) {
    const at = placeOnScreen(brush, note.at);
    if (note.leader) {
      const tip = placeOnScreen(brush, note.leader);
      brush.context.strokeStyle = brush.palette.ink['ink-2'];
      brush.context.lineWidth = WEIGHT_PX.thin;
      brush.context.beginPath();
      brush.context.moveTo(at.x, at.y);
      brush.context.lineTo(tip.x, tip.y);
      brush.context.stroke();
      brush.context.fillStyle = brush.palette.ink['ink-2'];
      brush.context.fillRect(tip.x - 2, tip.y - 2, 4, 4);
    }
    paintLetters(brush, at, { text: note.text, sizePx: 13, ground: brush.palette.ink.paper });
  }
}

/** A dimension ends in small squares, like the foot of a staff. */
function paintDimension(brush: Brush, plan: Plan, dimension: Dimension, printer: Printer): void {
  const from = anchorPoint(plan, dimension.from);
  const to = anchorPoint(plan, dimension.to);
  if (!from || !to) return;
  const lengthM = distanceM(from, to);
  if (lengthM === 0) return;
  const aside: PlanPoint = {
    x: (-(to.y - from.y) / lengthM) * dimension.asideM,
    y: ((to.x - from.x) / lengthM) * dimension.asideM,
  };
  const a = placeOnScreen(brush, { x: from.x + aside.x, y: from.y + aside.y });
  const b = placeOnScreen(brush, { x: to.x + aside.x, y: to.y + aside.y });
  const { context, palette } = brush;
  context.strokeStyle = palette.ink['ink-2'];
  context.fillStyle = palette.ink['ink-2'];
  context.lineWidth = WEIGHT_PX.thin;
  context.beginPath();
  for (const [ground, end] of [
    [placeOnScreen(brush, from), a],
    [placeOnScreen(brush, to), b],
  ] as const) {
    context.moveTo(ground.x, ground.y);
    context.lineTo(end.x, end.y);
  }
  context.moveTo(a.x, a.y);
  context.lineTo(b.x, b.y);
  context.stroke();
  for (const end of [a, b]) context.fillRect(end.x - 2.5, end.y - 2.5, 5, 5);
  let angleRad = Math.atan2(a.y - b.y, b.x - a.x);
  if (Math.abs(angleRad) > Math.PI / 2) angleRad += Math.PI;
  const middle = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
  paintLetters(brush, middle, {
    text: printer.length(lengthM),
    sizePx: 13,
    angleRad,
    ground: palette.ink.paper,
  });
}

const UNDER_NAME_PX = 22;

/** Every finding that has a place keeps its mark on the plan, open or not; the open one is larger. */
export function paintFindings(brush: Brush, design: Design, open: number | null): void {
  onScreen(brush);
  design.findings.forEach((finding, index) => {
    if (finding.severity === 'note' && index !== open) return;
    const spot = spotOfFinding(design, finding);
    if (!spot) return;
    const ink = brush.palette.ink[SEVERITY_INKS[finding.severity]];
    const at = placeOnScreen(brush, spot);
    paintSymbol(
      brush,
      SEVERITY_SYMBOLS[finding.severity],
      // A finding about a whole thing has its middle for a spot, where its name stands: the mark hangs below the name.
      finding.where.x === undefined ? { x: at.x, y: at.y + UNDER_NAME_PX } : at,
      index === open ? 22 : 15,
      { ink },
    );
  });
}
