import type { Design } from '../../core/design';
import { centroid, growBox, type PlanPoint } from '../../core/geometry';
import { ITEM_MAPS } from '../../core/plan';
import type { Problem } from '../../core/units';
import { placesOf } from '../tools/hit';
import { useDesk } from './desk';
import { keepInSight, showBox, useView } from './view';

/** Ground shown round a finding, metres each way. */
const ROUND_M = 4;

/** Where a finding is on the plan: its own spot, else the middle of what it is about; null where it is about nothing drawn. */
export function spotOfFinding(design: Design, finding: Problem): PlanPoint | null {
  const { x, y, id } = finding.where;
  if (x !== undefined && y !== undefined) return { x, y };
  if (id === undefined) return null;
  const part = design.beds.find((bed) => bed.id === id)?.layout.outline[0];
  if (part) return centroid(part);
  for (const map of ITEM_MAPS) {
    if (!Object.hasOwn(design.plan[map], id)) continue;
    const places = placesOf(design.plan, { map, id });
    return places.length > 2 ? centroid({ outer: places, holes: [] }) : (places[0] ?? null);
  }
  return design.supply.zones.find((zone) => zone.id === id)?.assemblyAt ?? null;
}

/** Opens a finding's slip and goes to its spot. */
export function showFinding(index: number | null): void {
  useDesk.setState({ finding: index });
  const { design } = useDesk.getState();
  const finding = index === null ? undefined : design?.findings[index];
  const spot = design && finding ? spotOfFinding(design, finding) : null;
  if (!spot) return;
  const { x, y } = spot;
  if (useView.getState().view.pixelsPerM < 20)
    showBox(growBox({ minX: x, minY: y, maxX: x, maxY: y }, ROUND_M), 60);
  else keepInSight({ x, y });
}

const focusSlip = (): void => {
  requestAnimationFrame(() => document.querySelector<HTMLElement>('[data-role="finding"]')?.focus());
};

/**
 * What a press on a line of a list of findings does: opens it, or closes the open one. Pressed by a key, the slip has the
 * focus next: on the sketch it stands a whole page of fields away from its line.
 */
export function pressFinding(index: number, isByKey: boolean): void {
  const isOpen = useDesk.getState().finding === index;
  showFinding(isOpen ? null : index);
  if (!isOpen && isByKey) focusSlip();
}

/** Closes the open finding; who read its slip goes on from its line in the list. */
export function closeFinding(): void {
  const { finding } = useDesk.getState();
  const isRead = document.activeElement?.closest('[data-role="finding"]') != null;
  useDesk.setState({ finding: null });
  if (!isRead) return;
  const line = document.querySelector<HTMLElement>(`[data-finding="${finding}"]`);
  (line ?? document.getElementById('sketch'))?.focus();
}

/** Opens the finding after the open one and goes to its slip, so that its mends are one Tab away and a screen reader reads it. */
export function readNextFinding(): void {
  const { design, finding } = useDesk.getState();
  const count = design?.findings.length ?? 0;
  if (count === 0) return;
  useDesk.setState({ step: 'review' });
  showFinding(finding === null ? 0 : (finding + 1) % count);
  focusSlip();
}
