import type { ReactElement } from 'react';
import { polylineLengthM } from '../../core/geometry';
import type { EdgeStretch } from '../../core/layout';
import { type Bed, type CorneredMap, type DrawnOutline, outlineEdge, outlinesOf } from '../../core/plan';
import { type CornerRef, useDesk } from '../state/desk';
import { sayEdgeClasses, sayEdgeOffsets, useEdgesAlong } from '../state/edges';
import { edit } from '../state/edit';
import { chooseCorner, cornerPlace, moveCorner } from '../state/selection';
import { usePrinter } from '../state/units';
import { EDGE_CLASS_NAMES } from '../wording';
import { QuantityField } from './QuantityField';
import { Reasons } from './Reasons';
import { Section } from './Section';

/** On an outline of more corners than this nobody looks for one by its number. */
const MOST_CORNERS = 24;

interface Item {
  readonly map: CorneredMap;
  readonly id: string;
}

/** The corners and edges of the one thing chosen, as a list: each can be chosen here as on the sketch. */
export function Outlines({ item }: { readonly item: Item }): ReactElement | null {
  const plan = useDesk((state) => state.history.plan);
  const corner = useDesk((state) => state.corner);
  const bed = item.map === 'beds' ? plan.beds[item.id] : undefined;
  const along = useEdgesAlong(bed);
  const outlines = outlinesOf(plan, item.map, item.id);
  const count = outlines.reduce((sum, outline) => sum + outline.points.length, 0);
  if (count === 0) return null;
  const isMany = count > MOST_CORNERS;
  return (
    <Section title="Edges" aside={`${count} corners`}>
      {isMany ? (
        <p className="faint">An outline of many short edges; press one on the sketch.</p>
      ) : (
        outlines.map((outline, ringIndex) => (
          <OutlineTable
            // biome-ignore lint/suspicious/noArrayIndexKey: an outline is named by its place in the thing
            key={ringIndex}
            {...{ item, outline, ringIndex, bed }}
            along={along?.[ringIndex]}
          />
        ))
      )}
      {corner?.part === 'corner' && corner.id === item.id ? <CornerPlace corner={corner} /> : null}
      {isMany ? null : <Reasons of={bed ? ['edge', 'offset'] : ['edge']} />}
    </Section>
  );
}

interface TableProps {
  readonly item: Item;
  readonly outline: DrawnOutline;
  readonly ringIndex: number;
  readonly bed: Bed | undefined;
  /** What each edge of a bed runs along. */
  readonly along: readonly (readonly EdgeStretch[])[] | undefined;
}

function OutlineTable({ item, outline, ringIndex, bed, along }: TableProps): ReactElement {
  return (
    <table className="ledger">
      {ringIndex > 0 ? <caption>Hole {ringIndex}</caption> : null}
      <thead>
        <tr>
          <th scope="col">corner</th>
          <th scope="col">edge</th>
          {bed ? <th scope="col">beside it</th> : null}
          <th scope="col" className="figure">
            length
          </th>
          {bed ? (
            <th scope="col" className="figure">
              keep off
            </th>
          ) : null}
        </tr>
      </thead>
      <tbody>
        {outline.points.map((_at, pointIndex) => (
          <EdgeLine
            // biome-ignore lint/suspicious/noArrayIndexKey: a corner is named by its place in the outline
            key={pointIndex}
            place={{ ...item, ringIndex, pointIndex }}
            outline={outline}
            bed={bed}
            stretches={along?.[pointIndex] ?? []}
          />
        ))}
      </tbody>
    </table>
  );
}

/** A corner and the edge that leaves it. */
function EdgeLine({
  place,
  outline,
  bed,
  stretches,
}: {
  readonly place: Omit<CornerRef, 'part'>;
  readonly outline: DrawnOutline;
  readonly bed: Bed | undefined;
  readonly stretches: readonly EdgeStretch[];
}): ReactElement {
  const printer = usePrinter();
  const corner = useDesk((state) => state.corner);
  const { ringIndex, pointIndex } = place;
  const edge = outline.edges[pointIndex];
  const number = pointIndex + 1;
  const isHere = corner?.ringIndex === ringIndex && corner.pointIndex === pointIndex;
  const chosen = isHere && corner.id === place.id ? corner.part : null;
  const own = bed?.rings[ringIndex]?.edges[pointIndex];
  return (
    <tr className={chosen ? 'is-chosen' : undefined}>
      <th scope="row">
        <button
          type="button"
          className="plain"
          aria-label={`Corner ${number}`}
          aria-pressed={chosen === 'corner'}
          onClick={() => chooseCorner({ ...place, part: 'corner' })}
        >
          {number}
        </button>
      </th>
      <td>
        {edge ? (
          <button
            type="button"
            className="plain"
            aria-label={`Edge ${number}`}
            aria-pressed={chosen === 'edge'}
            onClick={() => chooseCorner({ ...place, part: 'edge' })}
          >
            {`${number} to ${(number % outline.points.length) + 1}`}
            {edge.sagittaM === 0 ? '' : ', arc'}
          </button>
        ) : (
          <span className="faint">end</span>
        )}
      </td>
      {bed ? (
        <td className={own?.class ? undefined : 'faint'}>
          {own?.class ? EDGE_CLASS_NAMES[own.class] : sayEdgeClasses(stretches)}
        </td>
      ) : null}
      <td className="figure">
        {edge ? printer.length(polylineLengthM(outlineEdge(outline, pointIndex))) : ''}
      </td>
      {bed ? (
        <td className={own?.offsetM == null ? 'figure faint' : 'figure'}>
          {own?.offsetM == null ? sayEdgeOffsets(stretches, printer) : printer.small(own.offsetM)}
        </td>
      ) : null}
    </tr>
  );
}

/** Where the chosen corner stands, to be written. */
function CornerPlace({ corner }: { readonly corner: CornerRef }): ReactElement | null {
  const plan = useDesk((state) => state.history.plan);
  const at = cornerPlace(plan, corner);
  if (!at) return null;
  const set = (x: number | null, y: number | null): void => {
    if (x !== null && y !== null) edit(moveCorner(corner, { x, y }));
  };
  const name = `Corner ${corner.pointIndex + 1}`;
  return (
    <>
      <QuantityField label={`${name}, east`} measure="length" value={at.x} onSet={(x) => set(x, at.y)} />
      <QuantityField label={`${name}, north`} measure="length" value={at.y} onSet={(y) => set(at.x, y)} />
    </>
  );
}
