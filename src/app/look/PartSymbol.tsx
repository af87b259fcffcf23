import type { ReactElement } from 'react';
import { SYMBOL_SHAPES, type SymbolName, type SymbolPart, type SymbolShape } from './symbolShapes';

interface Props {
  readonly name: SymbolName;
  /** CSS pixels, both ways. */
  readonly size?: number;
  /** Replaces the lettering inside a run mark. */
  readonly lettering?: string;
  /** Said by a screen reader; a symbol without it is ornament beside a word. */
  readonly says?: string;
}

const colour = (ink: 'ink' | 'paper' | undefined): string =>
  ink === 'ink' ? 'currentColor' : ink === 'paper' ? 'var(--symbol-ground, var(--paper))' : 'none';

function part(shape: SymbolPart, index: number, lettering: string | undefined): ReactElement {
  if (shape.text !== undefined) {
    return (
      <text key={index} x={shape.x} y={shape.y} fontSize={shape.size} className="symbol-lettering">
        {lettering ?? shape.text}
      </text>
    );
  }
  return (
    <path
      key={index}
      d={shape.d}
      fill={colour(shape.fill)}
      stroke={colour(shape.stroke)}
      strokeWidth={shape.width}
      strokeDasharray={shape.dash?.join(' ')}
      strokeLinejoin="round"
    />
  );
}

/** One of the trade's symbols as the page draws it. */
export function PartSymbol({ name, size = 16, lettering, says }: Props): ReactElement {
  const shape: SymbolShape = SYMBOL_SHAPES[name];
  return (
    <svg
      className="symbol"
      viewBox={shape.box.join(' ')}
      width={size}
      height={size}
      role={says ? 'img' : undefined}
      aria-label={says}
      aria-hidden={says ? undefined : true}
    >
      {shape.parts.map((one, index) => part(one, index, lettering))}
    </svg>
  );
}
