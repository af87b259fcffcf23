import { OPS, type PDFPageProxy } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { openPdf } from './readBack';
import { brightness, GROUND_BRIGHTNESS, type PageOperators, underlaidStretches } from './readUnderlay';

/** One printed text as the second library reads it: its baseline, direction and the box of its letters, points. */
export interface ReadText {
  readonly text: string;
  readonly corners: readonly Point[];
}

interface Point {
  readonly x: number;
  readonly y: number;
}

interface Line {
  readonly a: Point;
  readonly b: Point;
  readonly halfWidth: number;
}

interface Box {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

/** What a printed page holds for this question: its size, its lettering, and every line that shows as ink. */
export interface ReadPage {
  readonly width: number;
  readonly height: number;
  readonly texts: readonly ReadText[];
  readonly lines: readonly Line[];
}

const EVERYWHERE: Box = { minX: -1e9, minY: -1e9, maxX: 1e9, maxY: 1e9 };

/** Letters of the face reach, in ems (from memory of the face; the sheet's own table of widths is not asked). */
const LOW = -0.2;
const HIGH = 0.7;
const HIGH_WITHOUT_CAPS = 0.5;
const hasTail = (text: string): boolean => /[gjpqyQ,;()[\]|@$/_]/.test(text);
const hasRise = (text: string): boolean => /[^acegmnopqrsuvwxyz.,:;\-–_ ]/.test(text);

/** The pieces of a path in the library's own encoding: 0 move, 1 line, 2 cubic, 4 close. */
function pieces(data: Float32Array): (readonly [Point, Point])[] {
  const found: (readonly [Point, Point])[] = [];
  let start: Point = { x: 0, y: 0 };
  let at = start;
  const to = (x: number, y: number): void => {
    found.push([at, { x, y }]);
    at = { x, y };
  };
  for (let i = 0; i < data.length; ) {
    const op = data[i]!;
    if (op === 0) {
      start = { x: data[i + 1]!, y: data[i + 2]! };
      at = start;
      i += 3;
    } else if (op === 1) {
      to(data[i + 1]!, data[i + 2]!);
      i += 3;
    } else if (op === 2) {
      const from = at;
      const [x1, y1, x2, y2, x3, y3] = Array.from(data.subarray(i + 1, i + 7)) as [
        number,
        number,
        number,
        number,
        number,
        number,
      ];
      for (let k = 1; k <= 8; k++) {
        const t = k / 8;
        const [p, q, r, s] = [(1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t ** 3];
        to(p * from.x + q * x1 + r * x2 + s * x3, p * from.y + q * y1 + r * y2 + s * y3);
      }
      i += 7;
    } else {
      to(start.x, start.y);
      i += 1;
    }
  }
  return found;
}

const narrower = (a: Box, b: Box): Box => ({
  minX: Math.max(a.minX, b.minX),
  minY: Math.max(a.minY, b.minY),
  maxX: Math.min(a.maxX, b.maxX),
  maxY: Math.min(a.maxY, b.maxY),
});

/** Every stroke and dark fill of a page, cut to the boxes it is clipped to. */
function readLines(list: PageOperators): readonly Line[] {
  const lines: Line[] = [];
  const stack: Box[] = [];
  let clip = EVERYWHERE;
  let [strokeInk, fillInk, width] = ['#000000', '#000000', 1];
  let clipsNext = false;
  list.fnArray.forEach((fn, i) => {
    const args = list.argsArray[i] as readonly unknown[] | null;
    if (fn === OPS.save) stack.push(clip);
    else if (fn === OPS.restore) clip = stack.pop() ?? EVERYWHERE;
    else if (fn === OPS.setStrokeRGBColor) strokeInk = String(args?.[0]);
    else if (fn === OPS.setFillRGBColor) fillInk = String(args?.[0]);
    else if (fn === OPS.setLineWidth) width = Number(args?.[0]);
    else if (fn === OPS.clip || fn === OPS.eoClip) clipsNext = true;
    else if (fn === OPS.constructPath && args) {
      const [paint, [data], box] = args as [number, [Float32Array | null], ArrayLike<number> | null];
      if (!data) return;
      if (clipsNext) {
        clipsNext = false;
        if (box) clip = narrower(clip, { minX: box[0]!, minY: box[1]!, maxX: box[2]!, maxY: box[3]! });
        return;
      }
      const strokes = [OPS.stroke, OPS.closeStroke, OPS.fillStroke, OPS.eoFillStroke].includes(paint);
      const fills = paint !== OPS.stroke && paint !== OPS.closeStroke && paint !== OPS.endPath;
      const isStroked = strokes && brightness(strokeInk) < GROUND_BRIGHTNESS;
      const isFilled = fills && brightness(fillInk) < GROUND_BRIGHTNESS;
      if (!isStroked && !isFilled) return;
      for (const [a, b] of pieces(data)) {
        const kept = cut(a, b, clip);
        if (kept) lines.push({ a: kept[0], b: kept[1], halfWidth: isStroked ? width / 2 : 0 });
      }
    }
  });
  return lines;
}

/** The part of a segment in a box (sides cut off one after the other), or null. */
function cut(a: Point, b: Point, box: Box): readonly [Point, Point] | null {
  let [from, to] = [0, 1];
  for (const [start, delta, low, high] of [
    [a.x, b.x - a.x, box.minX, box.maxX],
    [a.y, b.y - a.y, box.minY, box.maxY],
  ] as const) {
    if (delta === 0) {
      if (start < low || start > high) return null;
      continue;
    }
    const [t0, t1] = [(low - start) / delta, (high - start) / delta];
    from = Math.max(from, Math.min(t0, t1));
    to = Math.min(to, Math.max(t0, t1));
  }
  if (from > to) return null;
  const at = (t: number): Point => ({ x: a.x + (b.x - a.x) * t, y: a.y + (b.y - a.y) * t });
  return [at(from), at(to)];
}

/** The lettering of a page but for what the page itself says lies under it: pale, and printed before all else. */
async function readTexts(page: PDFPageProxy, underlaid: ReadonlySet<number>): Promise<readonly ReadText[]> {
  const content = await page.getTextContent({ includeMarkedContent: true });
  let stretch = -1;
  return content.items.flatMap((item): ReadText[] => {
    if ('type' in item) {
      if (item.type !== 'endMarkedContent') stretch += 1;
      return [];
    }
    return item.str.trim() === '' || underlaid.has(stretch) ? [] : [readText(item)];
  });
}

/** Reads every page back. */
export async function readPages(bytes: Uint8Array): Promise<readonly ReadPage[]> {
  const doc = await openPdf(bytes);
  const pages: ReadPage[] = [];
  for (let number = 1; number <= doc.numPages; number++) {
    const page = await doc.getPage(number);
    const [, , width = 0, height = 0] = page.view;
    const list = await page.getOperatorList();
    const texts = await readTexts(page, underlaidStretches(list));
    pages.push({ width, height, texts, lines: readLines(list) });
  }
  await doc.loadingTask.destroy();
  return pages;
}

/** The letters of one text as a turned box. */
function readText(item: {
  readonly str: string;
  readonly width: number;
  readonly transform: readonly number[];
}): ReadText {
  const [a = 1, b = 0, , , x = 0, y = 0] = item.transform;
  const size = Math.hypot(a, b);
  const [ux, uy] = [a / size, b / size];
  const low = hasTail(item.str) ? LOW * size : 0;
  const high = (hasRise(item.str) ? HIGH : HIGH_WITHOUT_CAPS) * size;
  const corner = (along: number, up: number): Point => ({
    x: x + ux * along - uy * up,
    y: y + uy * along + ux * up,
  });
  return {
    text: item.str,
    corners: [corner(0, low), corner(item.width, low), corner(item.width, high), corner(0, high)],
  };
}

/** Separating axes of two convex figures: true where they overlap by more than `toleranceMm` everywhere. */
function convexOverlap(one: readonly Point[], other: readonly Point[], tolerance: number): boolean {
  for (const figure of [one, other]) {
    for (let i = 0; i < figure.length; i++) {
      const [p, q] = [figure[i]!, figure[(i + 1) % figure.length]!];
      const length = Math.hypot(q.x - p.x, q.y - p.y);
      if (length === 0) continue;
      const [nx, ny] = [(q.y - p.y) / length, -(q.x - p.x) / length];
      const span = (points: readonly Point[]) => {
        const along = points.map((point) => point.x * nx + point.y * ny);
        return [Math.min(...along), Math.max(...along)] as const;
      };
      const [a, b] = [span(one), span(other)];
      if (Math.min(a[1], b[1]) - Math.max(a[0], b[0]) <= tolerance) return false;
    }
  }
  return true;
}

const boxOf = (points: readonly Point[]): Box => ({
  minX: Math.min(...points.map((p) => p.x)),
  minY: Math.min(...points.map((p) => p.y)),
  maxX: Math.max(...points.map((p) => p.x)),
  maxY: Math.max(...points.map((p) => p.y)),
});

/** A touch of 0.15 mm is forgiven: the height of the letters is a guess, and a hairline is as thick. */
const TOLERANCE = (0.15 * 72) / 25.4;

/** A stroke as the thin rectangle it inks. */
function inked(line: Line): readonly Point[] {
  const length = Math.hypot(line.b.x - line.a.x, line.b.y - line.a.y) || 1e-6;
  const [ux, uy] = [(line.b.x - line.a.x) / length, (line.b.y - line.a.y) / length];
  const h = Math.max(line.halfWidth, 1e-3);
  return [
    { x: line.a.x - uy * h, y: line.a.y + ux * h },
    { x: line.b.x - uy * h, y: line.b.y + ux * h },
    { x: line.b.x + uy * h, y: line.b.y - ux * h },
    { x: line.a.x + uy * h, y: line.a.y - ux * h },
  ];
}

const BUCKET = 24;

/** Lines by the squares of the page that their boxes touch. */
function linesBySquare(lines: readonly Line[]): ReadonlyMap<number, readonly Line[]> {
  const squares = new Map<number, Line[]>();
  for (const line of lines) {
    for (const key of squaresOf(boxOf([line.a, line.b]), line.halfWidth)) {
      const square = squares.get(key);
      if (square) square.push(line);
      else squares.set(key, [line]);
    }
  }
  return squares;
}

function squaresOf(box: Box, grow: number): readonly number[] {
  const keys: number[] = [];
  for (let i = Math.floor((box.minX - grow) / BUCKET); i <= Math.floor((box.maxX + grow) / BUCKET); i++)
    for (let k = Math.floor((box.minY - grow) / BUCKET); k <= Math.floor((box.maxY + grow) / BUCKET); k++)
      keys.push(i * 10_007 + k);
  return keys;
}

/** Lettering that stands on other lettering, on a line, or off the page: each as a sentence; none on a good page. */
export function unclearLettering(page: ReadPage): readonly string[] {
  const faults: string[] = [];
  const boxes = page.texts.map((text) => boxOf(text.corners));
  const squares = linesBySquare(page.lines);
  page.texts.forEach((text, i) => {
    const box = boxes[i]!;
    if (box.minX < 0 || box.minY < 0 || box.maxX > page.width || box.maxY > page.height)
      faults.push(`"${text.text}" runs off the page`);
    page.texts.forEach((other, k) => {
      if (k <= i || !touches(box, boxes[k]!)) return;
      if (convexOverlap(text.corners, other.corners, TOLERANCE))
        faults.push(`"${text.text}" stands on "${other.text}"`);
    });
    const letters = shrink(text.corners, TOLERANCE);
    const line = squaresOf(box, 0)
      .flatMap((key) => squares.get(key) ?? [])
      .find((l) => convexOverlap(letters, inked(l), 0));
    if (line) {
      const at = [line.a.x, line.a.y, line.b.x, line.b.y].map((n) => n.toFixed(0)).join(' ');
      faults.push(`"${text.text}" stands on a line at ${at}`);
    }
  });
  return faults;
}

const touches = (a: Box, b: Box): boolean =>
  a.minX <= b.maxX && b.minX <= a.maxX && a.minY <= b.maxY && b.minY <= a.maxY;

/** A rectangle drawn in on all sides. */
function shrink(corners: readonly Point[], by: number): readonly Point[] {
  const [a, b, , d] = corners as readonly [Point, Point, Point, Point];
  const [width, height] = [Math.hypot(b.x - a.x, b.y - a.y), Math.hypot(d.x - a.x, d.y - a.y)];
  const [ux, uy] = [(b.x - a.x) / width, (b.y - a.y) / width];
  const [vx, vy] = [(d.x - a.x) / height, (d.y - a.y) / height];
  const [i, k] = [Math.min(by, width / 3), Math.min(by, height / 3)];
  return corners.map((p, n) => {
    const [sx, sy] = [n === 0 || n === 3 ? i : -i, n < 2 ? k : -k];
    return { x: p.x + ux * sx + vx * sy, y: p.y + uy * sx + vy * sy };
  });
}
