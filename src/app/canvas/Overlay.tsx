import { type ReactElement, useMemo } from 'react';
import { Group, Layer, Line, Path, Rect, Text } from 'react-konva';
import { type PlanPoint, type Polyline, planToScreen, type ScreenView } from '../../core/geometry';
import type { Palette } from '../look/palette';
import { SYMBOL_SHAPES, type SymbolShape } from '../look/symbolShapes';
import { toolContext, useTool } from '../state/tools';
import { usePrinter } from '../state/units';
import { useView } from '../state/view';
import { type DraftLine, NO_DRAFT } from '../tools/tool';
import { TOOLS } from '../tools/toolTable';
import { CATCH_WORDS } from '../wording';
import { useCaught, useGesture } from './gestureState';
import { Selection } from './Selection';
import { UNDER_LETTER_PX, type WrittenLength, writtenLengthOf } from './writtenLength';

/** Points of a chain as the flat screen numbers that a line node takes. */
export const flatOnScreen = (view: ScreenView, points: Polyline): number[] =>
  points.flatMap((point) => {
    const { x, y } = planToScreen(point, view);
    return [x, y];
  });

/** What the hand is doing: the choice, the gesture, the drawing under way, the hair. The only nodes on the stage. */
export function Overlay({ palette }: { readonly palette: Palette }): ReactElement {
  const view = useView((state) => state.view);
  const gesture = useGesture((state) => state.gesture);
  return (
    <Layer listening={false}>
      <Selection palette={palette} view={view} />
      {gesture && gesture.ring.length > 1 ? (
        <Line
          points={flatOnScreen(view, gesture.ring)}
          closed={gesture.kind === 'box' || gesture.ring.length > 2}
          stroke={palette.ink.ink}
          strokeWidth={1.2}
          dash={[5, 4]}
        />
      ) : null}
      <DraftPicture palette={palette} view={view} />
      <Hair palette={palette} view={view} />
      <CatchMark palette={palette} view={view} />
    </Layer>
  );
}

const DASHES: Readonly<Record<DraftLine['style'], number[]>> = { sure: [], open: [], closing: [7, 5] };

function DraftPicture({
  palette,
  view,
}: {
  readonly palette: Palette;
  readonly view: ScreenView;
}): ReactElement | null {
  const key = useTool((state) => state.key);
  const state = useTool((one) => one.state);
  const typed = useTool((one) => one.typed);
  const printer = usePrinter();
  const draft = useMemo(
    () => (key === null ? NO_DRAFT : TOOLS[key].draft(state, toolContext())),
    [key, state],
  );
  if (key === null) return null;
  return (
    <Group>
      {draft.lines.map((line, index) => (
        <Line
          // biome-ignore lint/suspicious/noArrayIndexKey: lines of a draft have no other name
          key={index}
          points={flatOnScreen(view, line.points)}
          closed={line.isClosed}
          stroke={palette.ink.ink}
          strokeWidth={line.style === 'sure' ? 3 : 1.6}
          dash={DASHES[line.style]}
          lineJoin="round"
        />
      ))}
      {draft.corners.map((corner) => (
        <Corner key={`${corner.x} ${corner.y}`} at={corner} palette={palette} view={view} isFull={false} />
      ))}
      {draft.measures.map((measure, index) => {
        const isFramed = measure.isTyped && typed !== '';
        const length = writtenLengthOf({ ...measure, typed: measure.isTyped ? typed : '' }, view, printer);
        return length ? (
          // biome-ignore lint/suspicious/noArrayIndexKey: measures of a draft have no other name
          <LengthOnSketch key={index} length={length} isFramed={isFramed} palette={palette} />
        ) : null;
      })}
    </Group>
  );
}

/** A corner is a hollow square, full where it is the chosen one. */
export function Corner(props: {
  readonly at: PlanPoint;
  readonly palette: Palette;
  readonly view: ScreenView;
  readonly isFull: boolean;
}): ReactElement {
  const { x, y } = planToScreen(props.at, props.view);
  const size = props.isFull ? 11 : 9;
  return (
    <Rect
      x={x - size / 2}
      y={y - size / 2}
      width={size}
      height={size}
      fill={props.isFull ? props.palette.ink.ink : props.palette.ink.leaf}
      stroke={props.palette.ink.ink}
      strokeWidth={1.5}
    />
  );
}

/** A length written on the line it belongs to, where its dimension will print; what is being typed stands there instead, framed. */
export function LengthOnSketch(props: {
  readonly length: WrittenLength;
  readonly palette: Palette;
  readonly isFramed?: boolean;
}): ReactElement {
  const { x, y, widthPx, heightPx, text, under } = props.length;
  const { ink } = props.palette;
  return (
    <Group x={x} y={y}>
      <Rect
        x={-widthPx / 2}
        y={-heightPx / 2}
        width={widthPx}
        height={heightPx}
        fill={ink.leaf}
        {...(props.isFramed ? { stroke: ink.ink, strokeWidth: 1.5 } : {})}
      />
      <Text
        x={-widthPx / 2}
        y={4 - heightPx / 2}
        width={widthPx}
        align="center"
        text={text}
        fontFamily="Asap"
        fontStyle="600"
        fontSize={14}
        fill={ink.ink}
      />
      {under === '' ? null : (
        <Text
          x={-widthPx / 2}
          y={3}
          width={widthPx}
          align="center"
          text={under}
          fontFamily="Asap"
          fontSize={13}
          fill={ink['ink-2']}
        />
      )}
    </Group>
  );
}

/** The hair where the next place would be taken, while a tool is out. */
function Hair({
  palette,
  view,
}: {
  readonly palette: Palette;
  readonly view: ScreenView;
}): ReactElement | null {
  const isDrawing = useTool((state) => state.key !== null);
  const pointer = useTool((state) => state.pointer);
  if (!isDrawing || pointer === null) return null;
  const { x, y } = planToScreen(pointer, view);
  return (
    <Group>
      <Line points={[x - 22, y, x - 6, y]} stroke={palette.ink.ink} strokeWidth={1.2} />
      <Line points={[x + 6, y, x + 22, y]} stroke={palette.ink.ink} strokeWidth={1.2} />
      <Line points={[x, y - 22, x, y - 6]} stroke={palette.ink.ink} strokeWidth={1.2} />
      <Line points={[x, y + 6, x, y + 22]} stroke={palette.ink.ink} strokeWidth={1.2} />
    </Group>
  );
}

/** What is caught, drawn from the thing itself, with its word, beside the pointer. */
function CatchMark({
  palette,
  view,
}: {
  readonly palette: Palette;
  readonly view: ScreenView;
}): ReactElement | null {
  const caught = useCaught();
  if (caught === null) return null;
  const { x, y } = planToScreen(caught.at, view);
  const shape: SymbolShape = SYMBOL_SHAPES[`catch-${caught.kind}`];
  const colour = (which: 'ink' | 'paper'): string => (which === 'ink' ? palette.ink.ink : palette.ink.leaf);
  const word = CATCH_WORDS[caught.kind];
  const width = 30 + word.length * UNDER_LETTER_PX + 8;
  return (
    <Group x={x + 12} y={y - 36}>
      <Rect width={width} height={24} fill={palette.ink.leaf} />
      {shape.parts.map((part, index) => (
        <Path
          // biome-ignore lint/suspicious/noArrayIndexKey: strokes of a symbol have no other name
          key={index}
          x={5}
          y={4}
          scaleX={0.85}
          scaleY={0.85}
          data={part.d ?? ''}
          {...(part.fill ? { fill: colour(part.fill) } : {})}
          {...(part.stroke ? { stroke: colour(part.stroke), strokeWidth: part.width ?? 1 } : {})}
        />
      ))}
      <Text x={28} y={6} text={word} fontFamily="Asap" fontSize={13} fill={palette.ink.ink} />
    </Group>
  );
}
