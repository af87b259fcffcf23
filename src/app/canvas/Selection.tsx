import { Fragment, type ReactElement } from 'react';
import { Circle, Group, Line } from 'react-konva';
import {
  isAnticlockwise,
  type PlanPoint,
  planToScreen,
  pointAlong,
  polylineLengthM,
  type ScreenView,
} from '../../core/geometry';
import { outlineEdge, outlinesOf, type Plan } from '../../core/plan';
import type { Palette } from '../look/palette';
import { type CornerRef, type ItemRef, shownPlan, useDesk } from '../state/desk';
import { sayEdge, useEdgesAlong } from '../state/edges';
import { chosenByCorners } from '../state/selection';
import { usePrinter } from '../state/units';
import { placesOf } from '../tools/hit';
import { Corner, flatOnScreen, LengthOnSketch } from './Overlay';
import { bedOutline, structureOutline } from './shape/outline';
import { clearOfEachOther, coversLine, type WrittenLength, writtenLengthOf } from './writtenLength';

interface Props {
  readonly palette: Palette;
  readonly view: ScreenView;
}

/** What is chosen is drawn heavier, never in another colour; what is drawn by corners and chosen alone shows these and its lengths, and a bed on its own step what each edge runs along. */
export function Selection({ palette, view }: Props): ReactElement {
  const plan = useDesk(shownPlan);
  const selection = useDesk((state) => state.selection);
  const corner = useDesk((state) => state.corner);
  const only = chosenByCorners(selection);
  return (
    <Group>
      {selection.map((item) => (
        <ChosenItem key={`${item.map} ${item.id}`} item={item} plan={plan} palette={palette} view={view} />
      ))}
      {only ? <Corners item={only} plan={plan} corner={corner} palette={palette} view={view} /> : null}
    </Group>
  );
}

function ChosenItem({
  item,
  plan,
  palette,
  view,
}: Props & { readonly item: ItemRef; readonly plan: Plan }): ReactElement | null {
  const bed = item.map === 'beds' ? plan.beds[item.id] : undefined;
  const structure = item.map === 'structures' ? plan.structures[item.id] : undefined;
  const outline = bed ? bedOutline(bed) : structure ? structureOutline(structure) : null;
  if (outline) {
    return (
      <Fragment>
        {outline.rings.map((ring, index) => (
          <Line
            // biome-ignore lint/suspicious/noArrayIndexKey: rings have no other name
            key={index}
            points={flatOnScreen(view, ring)}
            closed
            stroke={palette.ink.ink}
            strokeWidth={4 * palette.weightRatio}
            lineJoin="round"
          />
        ))}
      </Fragment>
    );
  }
  const places = placesOf(plan, item);
  const [first] = places;
  if (!first) return null;
  if (places.length > 1) {
    return (
      <Line
        points={flatOnScreen(view, places)}
        stroke={palette.ink.ink}
        strokeWidth={4 * palette.weightRatio}
      />
    );
  }
  const { x, y } = planToScreen(first, view);
  return <Circle x={x} y={y} radius={17} stroke={palette.ink.ink} strokeWidth={3} />;
}

function Corners(
  props: Props & { readonly item: ItemRef; readonly plan: Plan; readonly corner: CornerRef | null },
): ReactElement | null {
  const { palette, view, corner, plan, item } = props;
  const outlines = outlinesOf(plan, item.map, item.id);
  const bed = item.map === 'beds' ? plan.beds[item.id] : undefined;
  const printer = usePrinter();
  const isOnBeds = useDesk((state) => state.step === 'beds');
  // While a hand pulls at the outline, its lengths are what is looked at.
  const isPulled = useDesk((state) => state.attempt !== null);
  const along = useEdgesAlong(isOnBeds && !isPulled ? bed : undefined);
  if (outlines.length === 0) return null;
  const shape = item.map === 'structures' ? plan.structures[item.id]?.shape : undefined;
  const halfM = shape?.kind === 'line' ? shape.widthM / 2 : 0;
  const edges = outlines.flatMap((outline, ringIndex) =>
    outline.points.map((at, pointIndex): DrawnEdge => {
      const path = outlineEdge(outline, pointIndex);
      const lengthM = polylineLengthM(path);
      const stretches = along?.[ringIndex]?.[pointIndex];
      return {
        key: `${ringIndex} ${pointIndex}`,
        at,
        path,
        lengthM,
        chosen: corner?.ringIndex === ringIndex && corner.pointIndex === pointIndex ? corner.part : null,
        written: writtenLengthOf(
          {
            from: at,
            to: path.at(-1) ?? at,
            aside: !outline.isClosed || isAnticlockwise(outline.points) === (ringIndex === 0) ? 1 : -1,
            ...(path.length > 2 ? { arc: { middle: pointAlong(path, lengthM / 2).at, lengthM } } : {}),
            ...(halfM > 0 ? { clearM: halfM } : {}),
            ...(stretches ? { under: sayEdge(stretches, printer) } : {}),
          },
          view,
          printer,
        ),
      };
    }),
  );
  const isCrowded = edges.length > MOST_LENGTHS;
  return (
    <Group>
      {edges.map(({ key, chosen, path }) =>
        chosen === 'edge' ? (
          <Line key={key} points={flatOnScreen(view, path)} stroke={palette.ink.ink} strokeWidth={7} />
        ) : null,
      )}
      {isCrowded
        ? null
        : lengthsOf(edges, view).map((length) => (
            <LengthOnSketch key={`${length.x} ${length.y}`} length={length} palette={palette} />
          ))}
      {edges.map(({ key, at, chosen }) => (
        <Corner key={key} at={at} palette={palette} view={view} isFull={chosen === 'corner'} />
      ))}
    </Group>
  );
}

/** On an outline of more edges than this their lengths would hide it. */
const MOST_LENGTHS = 40;

interface DrawnEdge {
  readonly key: string;
  /** The corner it begins at. */
  readonly at: PlanPoint;
  readonly path: readonly PlanPoint[];
  readonly lengthM: number;
  readonly chosen: CornerRef['part'] | null;
  readonly written: WrittenLength | null;
}

/** The lengths that are written: of the chosen edge and of the longest before those that would cover them, none over another edge. */
function lengthsOf(edges: readonly DrawnEdge[], view: ScreenView): readonly WrittenLength[] {
  const lines = edges.map(({ path }) => path.map((at) => planToScreen(at, view)));
  const isClear = ({ written, chosen }: DrawnEdge, index: number): boolean =>
    written !== null &&
    (chosen === 'edge' ||
      !coversLine(
        written,
        lines.filter((_line, other) => other !== index),
      ));
  return clearOfEachOther(
    edges
      .filter(isClear)
      .sort(
        (one, other) =>
          Number(other.chosen === 'edge') - Number(one.chosen === 'edge') || other.lengthM - one.lengthM,
      )
      .flatMap(({ written }) => written ?? []),
  );
}
