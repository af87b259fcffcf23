import { describe, expect, it } from 'vitest';
import { signedRingAreaM2 } from '../../../src/core/geometry';
import { frameOfBed, inputInFrame } from '../../../src/core/layout/inOwnFrame';
import {
  headingIntoFrame,
  headingOutOfFrame,
  intoFrame,
  isMirrored,
  type OwnFrame,
  outOfFrame,
  ringInOrder,
} from '../../../src/core/layout/ownFrame';
import type { LayoutInput } from '../../../src/core/layout/types';
import { plainInput } from '../../bench/bedFiles';

interface Point {
  readonly x: number;
  readonly y: number;
}
const OUTLINE = [
  { x: 3.1, y: 2 },
  { x: 12.3, y: 2 },
  { x: 12.3, y: 6.5 },
  { x: 8, y: 8.25 },
  { x: 3.1, y: 5 },
];
const bed = (points: readonly Point[]): LayoutInput =>
  plainInput('bed', [
    { points, edges: points.map((_, index) => ({ class: 'lawn' as const, offsetM: 0.1 + index / 100 })) },
  ]);
const turnedBy =
  (rad: number) =>
  ({ x, y }: Point): Point => ({
    x: x * Math.cos(rad) - y * Math.sin(rad),
    y: x * Math.sin(rad) + y * Math.cos(rad),
  });
const ringOf = (input: LayoutInput) => inputInFrame(input, frameOfBed(input)!).rings[0]!;

describe('a bed in a frame of its own', () => {
  const here = ringOf(bed(OUTLINE));

  it.each([
    ['moved', (p: Point): Point => ({ x: p.x + 731.25, y: p.y - 12.5 })],
    ['turned by a quarter', ({ x, y }: Point): Point => ({ x: -y, y: x })],
    ['turned by 31 degrees', turnedBy((31 * Math.PI) / 180)],
  ])('is the same when it was %s, corner by corner and edge by edge', (_, move) => {
    expect(ringOf(bed(OUTLINE.map(move)))).toEqual(here);
  });

  it('is the same when it was mirrored, and drawn the other way round', () => {
    const points = OUTLINE.map(({ x, y }) => ({ x: -x, y }));
    const { edges } = bed(OUTLINE).rings[0]!;
    // Edge i runs from point i to the next; in the ring turned round, the last stays the last.
    const mirrored = plainInput('bed', [
      { points: [...points].reverse(), edges: [...edges.slice(0, -1).reverse(), edges.at(-1)!] },
    ]);
    expect(ringOf(mirrored)).toEqual(here);
  });

  it('keeps its sizes to the digit where it is drawn square on the grid', () => {
    const xs = here.points.map(({ x }) => x);
    const ys = here.points.map(({ y }) => y);
    // 12.3 - 3.1 and 8.25 - 2.
    expect([Math.max(...xs), Math.max(...ys)].sort()).toEqual([6.25, 9.2]);
    expect(Math.min(...xs, ...ys)).toBe(0);
  });

  it('is told apart by what stands in it where the outline is its own mirror image', () => {
    const square = [
      { x: 0, y: 0 },
      { x: 6, y: 0 },
      { x: 6, y: 6 },
      { x: 0, y: 6 },
    ];
    const edges = square.map(() => ({ class: 'lawn' as const, offsetM: 0.1 }));
    const withStub = (stubUp: Point): LayoutInput => ({
      ...plainInput('square', [{ points: square, edges }]),
      stubUp,
    });
    const stubIn = (input: LayoutInput): Point | null => inputInFrame(input, frameOfBed(input)!).stubUp;
    const one = stubIn(withStub({ x: 0, y: 1.5 }));
    for (const other of [
      { x: 6, y: 1.5 },
      { x: 0, y: 4.5 },
      { x: 4.5, y: 6 },
      { x: 1.5, y: 0 },
    ])
      expect(stubIn(withStub(other))).toEqual(one);
  });

  it('is none where the outline has no extent', () => {
    expect(frameOfBed(bed([OUTLINE[0]!, OUTLINE[0]!, OUTLINE[0]!]))).toBeNull();
    expect(frameOfBed(bed(OUTLINE.slice(0, 2)))).toBeNull();
  });
});

describe('places and headings in and out of a frame', () => {
  const frames = [0, 1, 2, 3, 4, 5, 6, 7].map(
    (position): OwnFrame => ({ turnRad: 0.4, left: -3, bottom: 7, across: 120_000, up: 50_000, position }),
  );

  it('come back to where they were, in all eight positions', () => {
    for (const frame of frames) {
      const back = outOfFrame(intoFrame({ x: 4.2, y: 9.1 }, frame), frame);
      // The grid at both ends: half a tenth of a millimetre each way, aslant.
      expect(Math.hypot(back.x - 4.2, back.y - 9.1)).toBeLessThan(1.5e-4);
      expect(Math.cos(headingOutOfFrame(headingIntoFrame(1.1, frame), frame) - 1.1)).toBeCloseTo(1, 12);
    }
  });

  it('agree: a heading is that from one place to another', () => {
    for (const frame of frames) {
      const [from, to] = [
        { x: 1, y: 8 },
        { x: 1 + 4 * Math.cos(1.1), y: 8 + 4 * Math.sin(1.1) },
      ].map((point) => intoFrame(point, frame));
      const rad = Math.atan2(to!.y - from!.y, to!.x - from!.x);
      expect(Math.cos(headingIntoFrame(1.1, frame) - rad)).toBeCloseTo(1, 6);
    }
  });

  it('turn a ring round in half of them', () => {
    const ring = OUTLINE;
    for (const frame of frames) {
      const areaM2 = signedRingAreaM2(ring.map((point) => intoFrame(point, frame)));
      expect(areaM2 < 0).toBe(isMirrored(frame));
    }
  });
});

describe('a ring in order', () => {
  it('begins at its leftmost corner, anticlockwise, its edges with it', () => {
    // Clockwise from the right: by hand.
    const points = [
      { x: 4, y: 0 },
      { x: 0, y: 0 },
      { x: 0, y: 3 },
      { x: 4, y: 3 },
    ];
    const edges = ['bottom', 'left', 'top', 'right'];
    expect(ringInOrder(points, edges)).toEqual({
      points: [
        { x: 0, y: 0 },
        { x: 4, y: 0 },
        { x: 4, y: 3 },
        { x: 0, y: 3 },
      ],
      edges: ['bottom', 'right', 'top', 'left'],
    });
  });
});
