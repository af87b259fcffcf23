import type { KeyboardEvent } from 'react';
import { useDesk } from '../state/desk';
import { chooseNeighbour, chooseNextCorner, nudge } from '../state/selection';
import { commitEntry, gridStepM, putAway, stepPointer, tell, typeEntry, useTool } from '../state/tools';
import { panBy } from '../state/view';

const ARROWS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};
const PAN_PX = 60;

/** Letters and marks that can begin a typed entry while a tool is out. */
const BEGINS_ENTRY = /^[\d.'+\-ewnsEWNS]$/;

function arrow(dx: number, dy: number, event: KeyboardEvent): void {
  const step = gridStepM() * (event.shiftKey ? 10 : 1) * (event.altKey ? 0.1 : 1);
  if (useTool.getState().key !== null) stepPointer(dx * step, dy * step);
  else if (useDesk.getState().selection.length > 0) nudge(dx * step, dy * step);
  else panBy(-dx * PAN_PX, dy * PAN_PX);
}

function drawingKey(event: KeyboardEvent): boolean {
  const { typed } = useTool.getState();
  if (event.key === 'Enter') commitEntry();
  else if (event.key === 'Backspace') {
    if (typed === '') tell({ kind: 'back' });
    else typeEntry(typed.slice(0, -1));
  } else if (event.key === 'Escape') {
    if (typed !== '') typeEntry('');
    else putAway();
  } else if (event.key.length === 1 && (typed !== '' || BEGINS_ENTRY.test(event.key)))
    typeEntry(typed + event.key);
  else return false;
  return true;
}

function choosingKey(event: KeyboardEvent): boolean {
  if (event.key === ',') chooseNeighbour(-1);
  else if (event.key === '.') chooseNeighbour(1);
  else if (event.key === '<') chooseNextCorner(-1);
  else if (event.key === '>') chooseNextCorner(1);
  else return false;
  return true;
}

/** Keys that mean something only on the sketch; all others are the action table's. */
export function useSketchKeys(): (event: KeyboardEvent<HTMLElement>) => void {
  return (event) => {
    if (event.target !== event.currentTarget || event.ctrlKey || event.metaKey) return;
    const way = ARROWS[event.key];
    const isDrawing = useTool.getState().key !== null;
    let isTaken = true;
    if (way) arrow(way[0], way[1], event);
    else isTaken = isDrawing ? drawingKey(event) : choosingKey(event);
    if (!isTaken) return;
    event.preventDefault();
    event.stopPropagation();
  };
}
