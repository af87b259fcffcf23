import { type ReactElement, useEffect, useRef, useState } from 'react';
import { distanceM, type PlanPoint, scaledToDistance } from '../../core/geometry';
import type { Underlay } from '../../core/plan';
import { useDesk } from '../state/desk';
import { edit } from '../state/edit';
import { showChosen } from '../state/selection';
import { useTool } from '../state/tools';
import { usePrinter } from '../state/units';
import type { MeasureState } from '../tools/measure';
import { Act } from './Act';
import { QuantityField } from './QuantityField';
import { Reasons } from './Reasons';
import { Line } from './Section';

/** How far a checked distance may be off before the picture is called crooked: two in a hundred, common practice, no source. */
const FAIR_RATIO = 0.02;

/**
 * Sets a picture to scale by two of its points and how far apart they really are; a third point, whose distance from the
 * first is known too, shows what is left over.
 */
export function UnderlayScale({ id }: { readonly id: string }): ReactElement | null {
  const underlay = useDesk((state) => state.history.plan.underlays[id]);
  const path = useTool((tool) => (tool.key === 'measure' ? (tool.state as MeasureState) : null));
  const [isScaled, setScaled] = useState(false);
  if (underlay?.kind !== 'picture') return null;
  // Places that were set; the one under the hair is none yet, and moving on to the field must not make it one.
  const [first, second, third] = path?.points ?? [];
  return (
    <div className="scale-steps">
      <p>
        {isScaled
          ? 'Scale set. Measure from the first point to a third one, and check.'
          : 'Scale: measure between two points of the picture whose distance you know.'}{' '}
        <Act action="tool.measure" />
      </p>
      {first && second && !third ? (
        <TwoPoints
          key={`${isScaled}`}
          underlay={underlay}
          first={first}
          second={second}
          isScaled={isScaled}
          onScaled={() => setScaled(true)}
        />
      ) : null}
      {third ? <p className="aside">Two points only: step back, or press Return and begin again.</p> : null}
    </div>
  );
}

function TwoPoints(props: {
  readonly underlay: Underlay;
  readonly first: PlanPoint;
  readonly second: PlanPoint;
  readonly isScaled: boolean;
  readonly onScaled: () => void;
}): ReactElement {
  const { underlay, first, second } = props;
  const printer = usePrinter();
  const [checkedM, setChecked] = useState<number | null>(null);
  const drawnM = distanceM(first, second);
  // Two points are measured to write what is between them: the field takes the hand from the sketch, and gives it back.
  const field = useRef<HTMLDivElement>(null);
  useEffect(() => field.current?.querySelector('input')?.focus(), []);
  const setScale = (trueM: number | null): void => {
    const changes = trueM === null ? null : scaledToDistance(underlay, first, second, trueM);
    if (!changes) return;
    if (edit({ name: 'change-items', params: { items: [{ map: 'underlays', id: underlay.id }], changes } })) {
      useTool.setState({ state: { name: 'waiting', points: [], pointer: null, isEnded: false } });
      showChosen();
      props.onScaled();
      document.getElementById('sketch')?.focus();
    }
  };
  return (
    <>
      <Line name="Apart as it lies">{printer.length(drawnM)}</Line>
      <div ref={field}>
        <QuantityField
          label={props.isScaled ? 'Known distance' : 'Really apart'}
          measure="length"
          value={props.isScaled ? checkedM : null}
          empty="write the true distance"
          onSet={props.isScaled ? setChecked : setScale}
        />
      </div>
      {checkedM === null ? null : (
        <>
          <Line name="Left over">
            {printer.small(Math.abs(drawnM - checkedM))}, {printer.percent(Math.abs(drawnM / checkedM - 1))}
          </Line>
          <Reasons of={['leftOver']} />
          <p className={Math.abs(drawnM / checkedM - 1) > FAIR_RATIO ? 'refusal' : 'aside'}>
            {Math.abs(drawnM / checkedM - 1) > FAIR_RATIO
              ? 'The picture is not to one scale here: measure on the ground what matters.'
              : 'The picture is fair to trace over.'}
          </p>
          <button type="button" className="act" onClick={() => setScale(checkedM)}>
            Take this distance for the scale instead
          </button>
        </>
      )}
    </>
  );
}
