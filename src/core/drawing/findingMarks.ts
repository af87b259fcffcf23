import type { Design } from '../design';
import { type PaperView, planToPaper } from '../geometry';
import type { Printer, Problem } from '../units';
import { sayProblem } from '../words';
import type { PaperRect } from './blocks';
import type { LabelRequest } from './labels';
import type { PrintedNames } from './names';

/** Findings a sheet prints, in the order their numbers follow; notes are left to the calculations. */
export const shownFindings = (design: Design): readonly Problem[] =>
  design.findings.filter((finding) => finding.severity !== 'note');

/**
 * A finding as the sheet says it: what, and what to do next. The place is said in front only where the sentence does
 * not name it, and never in coordinates: the finding's number stands at its place on the plan.
 */
export function sayFinding(
  finding: Problem,
  print: Printer,
  names: PrintedNames,
): { readonly what: string; readonly next: string } {
  const { id } = finding.where;
  const said = sayProblem({ ...finding, where: id === undefined ? {} : { id } }, print, names);
  const isNamed = said.where === '' || said.what.toLowerCase().includes(said.where.toLowerCase());
  return { what: isNamed ? said.what : `${said.where}: ${said.what}`, next: said.next };
}

interface Placed {
  readonly number: number;
  readonly finding: Problem;
  readonly x: number;
  readonly y: number;
}

function placedFindings(design: Design, view: PaperView, room: PaperRect): readonly Placed[] {
  return shownFindings(design).flatMap((finding, i): Placed[] => {
    const { x, y } = finding.where;
    if (x === undefined || y === undefined) return [];
    const at = planToPaper({ x, y }, view);
    const isSeen =
      at.x > room.x + 2 &&
      at.y > room.y + 2 &&
      at.x < room.x + room.widthMm - 2 &&
      at.y < room.y + room.heightMm - 2;
    return isSeen ? [{ number: i + 1, finding, ...at }] : [];
  });
}

/** The shape of each finding with its number, as in the table of findings, tied to its place. */
export function findingLabels(design: Design, view: PaperView, room: PaperRect): readonly LabelRequest[] {
  return placedFindings(design, view, room).map((placed) => ({
    key: `finding-${placed.number}`,
    layer: 'findings',
    weight: 200,
    lines: [{ text: String(placed.number), font: 'narrow-semibold', sizeMm: 2.6 }],
    targets: [{ x: placed.x, y: placed.y }],
    symbol: placed.finding.severity === 'stop' ? 'problem-stop' : 'problem-check',
    reachMm: 24,
    leader: true,
  }));
}
