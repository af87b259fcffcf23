import type { DrawingItem, DrawingPage, PathStep, Stroke } from '../core/drawing';
import type { Look } from './looks';
import { shortNumber } from './numbers';

/** PDF points in a millimetre: exact, a point is 1/72 in. */
export const POINTS_PER_MM = 72 / 25.4;

const CAPS = { butt: 0, round: 1, square: 2 } as const;
const JOINS = { miter: 0, round: 1, bevel: 2 } as const;

const colour = (hex: string): string =>
  [1, 3, 5].map((at) => shortNumber(Number.parseInt(hex.slice(at, at + 2), 16) / 255, 3)).join(' ');

/** Text and pictures go through the PDF library, which embeds what they use. */
export interface PdfPageWriter {
  readonly write: (operators: string) => void;
  readonly text: (item: Extract<DrawingItem, { kind: 'text' }>) => void;
  readonly image: (item: Extract<DrawingItem, { kind: 'image' }>) => void;
  /** Resource name of a layer, or null for items on none. */
  readonly layerName: (layer: string) => string | null;
}

/** Writes the content of one page: paths and dots as operators, in points with the origin at the bottom left. */
export function writePage(page: DrawingPage, look: Look, writer: PdfPageWriter): void {
  const x = (mm: number) => shortNumber(mm * POINTS_PER_MM, 2);
  const y = (mm: number) => shortNumber((page.heightMm - mm) * POINTS_PER_MM, 2);
  const path = (steps: readonly PathStep[]): string =>
    steps
      .map((s) => {
        if (s[0] === 'Z') return 'h';
        if (s[0] === 'C') return `${x(s[1])} ${y(s[2])} ${x(s[3])} ${y(s[4])} ${x(s[5])} ${y(s[6])} c`;
        return `${x(s[1])} ${y(s[2])} ${s[0] === 'M' ? 'm' : 'l'}`;
      })
      .join('\n');
  const pen = (s: Stroke): string =>
    `${colour(look[s.ink])} RG ${x(s.widthMm)} w ${CAPS[s.cap ?? 'butt']} J ${JOINS[s.join ?? 'round']} j [${(s.dashMm ?? []).map(x).join(' ')}] 0 d`;

  let setPen = '';
  /** The operators that set a pen; none where it is the one last set. */
  const take = (s: Stroke): string => {
    const wanted = pen(s);
    if (wanted === setPen) return '';
    setPen = wanted;
    return `${wanted}\n`;
  };

  let openLayer: string | null = null;
  const enter = (layer: string | null): void => {
    if (layer === openLayer) return;
    if (openLayer !== null) writer.write('EMC');
    if (layer !== null) writer.write(`/OC /${layer} BDC`);
    openLayer = layer;
  };
  const draw = (item: DrawingItem): void => {
    if (item.kind === 'clip') {
      enter(null);
      const outside = setPen;
      writer.write(`q\n${path(item.steps)}\nW n`);
      item.items.forEach(draw);
      enter(null);
      writer.write('Q');
      setPen = outside;
      return;
    }
    enter(writer.layerName(item.layer));
    if (item.kind === 'text') writer.text(item);
    else if (item.kind === 'image') writer.image(item);
    else if (item.kind === 'dots') {
      const dots = item.at.map((p) => `${x(p.x)} ${y(p.y)} m ${x(p.x)} ${y(p.y)} l`).join('\n');
      writer.write(`${take({ ink: item.ink, widthMm: item.diameterMm, cap: 'round' })}${dots}\nS`);
    } else if (item.steps.length > 0) {
      const star = item.evenOdd ? '*' : '';
      const paint = item.fill && item.stroke ? `B${star}` : item.fill ? `f${star}` : item.stroke ? 'S' : 'n';
      const fill = item.fill ? `${colour(look[item.fill])} rg\n` : '';
      writer.write(`${fill}${item.stroke ? take(item.stroke) : ''}${path(item.steps)}\n${paint}`);
    }
  };
  page.items.forEach(draw);
  enter(null);
}
