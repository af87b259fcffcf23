import type { DrawingItem, DrawingPage, PathStep, Stroke } from '../core/drawing';
import { faceStyle } from './fonts';
import type { Look } from './looks';
import { shortNumber } from './numbers';

const mm = (value: number): string => shortNumber(value, 3);
const escapeXml = (text: string): string =>
  text.replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;').replace(/"/g, '&quot;');

function pathData(steps: readonly PathStep[]): string {
  return steps
    .map((step) =>
      step[0] === 'Z'
        ? 'Z'
        : `${step[0]}${step
            .slice(1)
            .map((n) => mm(n as number))
            .join(' ')}`,
    )
    .join('');
}

function strokeAttributes(stroke: Stroke, look: Look): string {
  const dash = stroke.dashMm ? ` stroke-dasharray="${stroke.dashMm.map(mm).join(' ')}"` : '';
  return ` stroke="${look[stroke.ink]}" stroke-width="${mm(stroke.widthMm)}" stroke-linecap="${stroke.cap ?? 'butt'}" stroke-linejoin="${stroke.join ?? 'round'}"${dash}`;
}

function textElement(item: Extract<DrawingItem, { kind: 'text' }>, look: Look, tag: string): string {
  const face = faceStyle(item.font);
  const turn = item.angleRad
    ? ` transform="rotate(${shortNumber((-item.angleRad * 180) / Math.PI, 3)} ${mm(item.at.x)} ${mm(item.at.y)})"`
    : '';
  return `<text${tag} x="${mm(item.at.x)}" y="${mm(item.at.y)}" font-family="'${face.family}', sans-serif" font-weight="${face.weight}" font-style="${face.style}" font-size="${mm(item.sizeMm)}" text-anchor="${item.anchor}" fill="${look[item.ink]}"${turn}>${escapeXml(item.text)}</text>`;
}

interface Clips {
  count: number;
}

function element(item: DrawingItem, look: Look, clips: Clips): string {
  const tag = `${item.layer ? ` data-layer="${escapeXml(item.layer)}"` : ''}${item.of ? ` data-of="${escapeXml(item.of)}"` : ''}`;
  switch (item.kind) {
    case 'path': {
      const line = item.stroke ? strokeAttributes(item.stroke, look) : '';
      const fill = `${item.fill ? look[item.fill] : 'none'}"${item.evenOdd ? ' fill-rule="evenodd"' : ''}`;
      return `<path${tag} d="${pathData(item.steps)}" fill="${fill}${line}/>`;
    }
    case 'dots': {
      const data = item.at.map((p) => `M${mm(p.x)} ${mm(p.y)}h0`).join('');
      return `<path${tag} d="${data}" fill="none" stroke="${look[item.ink]}" stroke-width="${mm(item.diameterMm)}" stroke-linecap="round"/>`;
    }
    case 'text':
      return textElement(item, look, tag);
    case 'image':
      return `<image${tag} href="${escapeXml(item.dataUri)}" x="${mm(item.at.x)}" y="${mm(item.at.y)}" width="${mm(item.widthMm)}" height="${mm(item.heightMm)}" opacity="${shortNumber(item.opacityRatio, 3)}" preserveAspectRatio="none" transform="rotate(${shortNumber((-item.angleRad * 180) / Math.PI, 3)} ${mm(item.at.x)} ${mm(item.at.y)})"/>`;
    case 'clip': {
      const id = `clip${++clips.count}`;
      const inside = item.items.map((child) => element(child, look, clips)).join('\n');
      return `<clipPath id="${id}"><path d="${pathData(item.steps)}"/></clipPath><g clip-path="url(#${id})">\n${inside}\n</g>`;
    }
  }
}

/** One page as an SVG document of the page's true size in millimetres. Same page and look, same text. */
export function renderSvg(page: DrawingPage, look: Look): string {
  const clips: Clips = { count: 0 };
  const [width, height] = [mm(page.widthMm), mm(page.heightMm)];
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}mm" height="${height}mm" viewBox="0 0 ${width} ${height}" style="font-kerning:none;font-variant-ligatures:none">`,
    `<title>${escapeXml(page.title)}</title>`,
    `<rect width="${width}" height="${height}" fill="${look.paper}"/>`,
    ...page.items.map((item) => element(item, look, clips)),
    '</svg>',
    '',
  ].join('\n');
}
