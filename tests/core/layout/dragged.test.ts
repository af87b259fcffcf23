import { describe, expect, test } from 'vitest';
import {
  type BedLayout,
  type BedRing,
  type LayoutInput,
  layoutBed,
  verifyRuns,
} from '../../../src/core/layout';
import { plainInput, readBedFiles } from '../../bench/bedFiles';
import { shapedBeds } from '../../bench/shapedBeds';

const beds = [...readBedFiles('tests/reference/beds'), ...shapedBeds()];

/** An L whose lower right corner is pulled down by so much, metres. */
function pulledL(downM: number): BedRing {
  const corners = [
    [0, 0],
    [7, -downM],
    [7, 3.5],
    [5, 3.5],
    [5, 5],
    [0, 5],
  ] as const;
  return {
    points: corners.map(([x, y]) => ({ x, y })),
    edges: corners.map(() => ({ class: 'open', offsetM: 0.075 })),
  };
}

const draggedTo = (downM: number, previous: LayoutInput['previous']): LayoutInput => ({
  ...plainInput('bed', [pulledL(downM)]),
  quality: 'preview',
  previous,
});

/** Layouts of a drag in small moves, each knowing the one before. */
function drag(movesM: readonly number[]): BedLayout[] {
  const laid: BedLayout[] = [];
  for (const downM of movesM) laid.push(layoutBed(draggedTo(downM, laid.at(-1)?.memory ?? null))[0]!);
  return laid;
}

const side = (layout: BedLayout | undefined): string | undefined =>
  layout?.memory?.topology?.split('/').slice(1).join('/');

describe('a bed under the hand', () => {
  const laid = drag([0, 0.04, 0.08, 0.12, 0.16, 0.2]);

  test('keeps how its loop lies from move to move', () => {
    expect(laid[0]!.memory?.topology).toBeDefined();
    for (const layout of laid) {
      expect(layout.chosen).toBe(laid[0]!.chosen);
      expect(side(layout)).toBe(side(laid[0]));
    }
  });

  test('has sound tubing for the very outline of each move', () => {
    laid.forEach((layout, move) => {
      const input = draggedTo(0.04 * move, null);
      expect(layout.status).toBe('routed');
      expect(verifyRuns({ ...input, runs: layout.runs, joins: layout.joins }).failures).toEqual([]);
      expect(layout.coverage.coveredRatio).toBeGreaterThan(0.93);
    });
  });

  test.each([
    ['01-rect10x15ft', 'loop-centre-row'],
    ['09-strip3x60ft', 'strip'],
    ['long-s-strip', 'contour'],
    ['06-kidney', 'loop'],
    ['02-rect20x40ft-S12', 'loop'],
  ])('%s is followed as the %s it was, and nothing is compared with it meanwhile', (name, layout) => {
    const { input } = beds.find((bed) => bed.name === name)!;
    const [finished] = layoutBed(input);
    const [first] = layoutBed({ ...input, quality: 'preview' });
    const [followed] = layoutBed({ ...input, quality: 'preview', previous: finished!.memory });
    expect(followed!.layout).toBe(layout);
    expect(followed!.chosen).toBe(finished!.chosen);
    expect(followed!.verified.failures).toEqual([]);
    expect(followed!.alternatives).toEqual([]);
    expect(first!.status).toBe('routed');
  });

  test('is laid anew where what it remembers cannot be laid any more', () => {
    const [anew] = layoutBed(draggedTo(0.1, { ...laid[0]!.memory!, topology: '900/7/right' }));
    expect(anew!.status).toBe('routed');
    expect(anew!.verified.failures).toEqual([]);
  });

  test('is laid the way the designer names, whatever was taken last', () => {
    const strip = layoutBed({ ...draggedTo(0.1, laid[0]!.memory), layout: 'laterals' })[0]!;
    expect(strip.layout).toBe('laterals');
  });
});
