import type { ReactElement } from 'react';
import { ITEM_MAPS, ITEM_NOUNS, type Plan, placeOnEarth } from '../../core/plan';
import { boxOfPlan } from '../canvas/shape/outline';
import { usePrinter } from '../state/units';
import { Onward } from './Onward';
import { Line } from './Section';

/** What a file of another program holds and how large it is, before any of it is put on the plan. */
export function SiteQuestion(props: {
  readonly name: string;
  readonly plan: Plan;
  readonly remarks: readonly string[];
  readonly onAnswer: (answer: 'take') => void;
}): ReactElement {
  const printer = usePrinter();
  const box = boxOfPlan(props.plan);
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        props.onAnswer('take');
      }}
    >
      <h1>{props.name}</h1>
      <Line name="Placed by">
        {placeOnEarth(props.plan.georeference) ? 'longitude and latitude' : 'local metres, as the file says'}
      </Line>
      {box ? (
        <Line name="Size on the ground">
          {printer.length(box.maxX - box.minX)} by {printer.length(box.maxY - box.minY)}
        </Line>
      ) : null}
      {ITEM_MAPS.filter((map) => Object.keys(props.plan[map]).length > 0).map((map) => (
        <Line key={map} name={ITEM_NOUNS[map]}>
          {Object.keys(props.plan[map]).length}
        </Line>
      ))}
      {props.remarks.length > 0 ? (
        <>
          <h2>To look at</h2>
          <ul className="remarks">
            {props.remarks.slice(0, 8).map((remark) => (
              <li key={remark}>{remark}</li>
            ))}
          </ul>
          {props.remarks.length > 8 ? <p className="aside">and {props.remarks.length - 8} more</p> : null}
        </>
      ) : null}
      <Onward words="Put it on the plan" />
    </form>
  );
}
