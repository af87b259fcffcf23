import { growBox } from '../../core/geometry';
import { useDesk } from './desk';
import { keepInSight, showBox, useView } from './view';

/** Ground shown round a finding, metres each way. */
const ROUND_M = 4;

/** Opens a finding's slip and goes to its spot. */
export function showFinding(index: number | null): void {
  useDesk.setState({ finding: index });
  const finding = index === null ? undefined : useDesk.getState().design?.findings[index];
  const { x, y } = finding?.where ?? {};
  if (x === undefined || y === undefined) return;
  if (useView.getState().view.pixelsPerM < 20)
    showBox(growBox({ minX: x, minY: y, maxX: x, maxY: y }, ROUND_M), 60);
  else keepInSight({ x, y });
}

/** The finding after or before the open one. */
export function openFinding(way: 1 | -1): void {
  const { design, finding } = useDesk.getState();
  const count = design?.findings.length ?? 0;
  if (count === 0) return;
  const next = finding === null ? (way > 0 ? 0 : count - 1) : (finding + way + count) % count;
  useDesk.setState({ step: 'review' });
  showFinding(next);
}
