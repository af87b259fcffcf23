import type { ScreenPoint } from '../../../core/geometry';
import { SYMBOL_SHAPES, type SymbolName, type SymbolShape } from '../../look/symbolShapes';
import type { Brush } from './brush';

const paths = new Map<string, Path2D>();

function pathOf(d: string): Path2D {
  const known = paths.get(d);
  if (known) return known;
  const path = new Path2D(d);
  paths.set(d, path);
  return path;
}

/** Draws one of the trade's symbols about a place on the screen. The brush must be on the screen. */
export function paintSymbol(
  brush: Brush,
  name: SymbolName,
  at: ScreenPoint,
  sizePx: number,
  how: { readonly angleRad?: number; readonly ink?: string; readonly lettering?: string } = {},
): void {
  const { context, palette } = brush;
  const shape: SymbolShape = SYMBOL_SHAPES[name];
  const [left, top, wide, high] = shape.box;
  const ink = how.ink ?? palette.ink.ink;
  const colour = (which: 'ink' | 'paper'): string => (which === 'ink' ? ink : palette.ink.paper);
  context.save();
  context.translate(at.x, at.y);
  context.rotate(-(how.angleRad ?? 0));
  context.scale(sizePx / wide, sizePx / high);
  context.translate(-left - wide / 2, -top - high / 2);
  context.lineJoin = 'round';
  for (const part of shape.parts) {
    if (part.d !== undefined) {
      const path = pathOf(part.d);
      if (part.fill) {
        context.fillStyle = colour(part.fill);
        context.fill(path);
      }
      if (part.stroke) {
        context.strokeStyle = colour(part.stroke);
        context.lineWidth = part.width ?? 1;
        context.setLineDash(part.dash ? [...part.dash] : []);
        context.stroke(path);
        context.setLineDash([]);
      }
    } else if (part.text !== undefined) {
      context.fillStyle = part.fill ? colour(part.fill) : ink;
      context.font = `600 ${part.size ?? 10}px "Asap Condensed"`;
      context.textAlign = 'center';
      context.textBaseline = 'alphabetic';
      context.fillText(how.lettering ?? part.text, part.x ?? 12, part.y ?? 16);
    }
  }
  context.restore();
}
