import type { ReactElement } from 'react';
import { PAPERS, scaleLabel, scalesOf } from '../../core/drawing';
import type { Plan } from '../../core/plan';
import type { TakeoffLine } from '../../core/takeoff';
import type { Printer } from '../../core/units';
import { TASK_NAMES } from '../../core/words';
import { ChoiceField } from '../parts/ChoiceField';
import { DrawingSizesFields } from '../parts/DrawingSizesFields';
import { Reasons } from '../parts/Reasons';
import { Line, Section } from '../parts/Section';
import { SheetChanges } from '../parts/SheetChanges';
import { UsualFigures } from '../parts/UsualFigures';
import { useDesk } from '../state/desk';
import { edit } from '../state/edit';
import { sayFigure } from '../state/figure';
import { usePrinter } from '../state/units';

const setDisplay = (changes: Partial<Plan['display']>): boolean =>
  edit({ name: 'set-display', params: { changes } });

/** "roll of 500 ft": two lengths of one part are two lines. */
const unitOf = ({ unit, eachM }: TakeoffLine, printer: Printer): string =>
  unit === 'm' ? '' : eachM === undefined ? unit : `${unit} of ${printer.tubing(eachM)}`;

/** Paper and scale, what is to be bought, and the way to the printer. */
export function SheetPage(): ReactElement {
  const { display, project } = useDesk((state) => state.history.plan);
  const takeoff = useDesk((state) => state.design?.takeoff);
  const printer = usePrinter();
  return (
    <>
      <DrawingSizesFields />
      <Section title="Paper">
        <ChoiceField
          label="Size"
          value={display.paper ?? ''}
          choices={[
            ['', 'as usual here'],
            ...Object.entries(PAPERS).map(([key, paper]) => [key, paper.name] as const),
          ]}
          onChoose={(paper) =>
            setDisplay({ paper: paper === '' ? null : (paper as Plan['display']['paper']) })
          }
        />
        <ChoiceField
          label="Scale"
          value={display.scaleDenominator === null ? '' : String(display.scaleDenominator)}
          choices={[
            ['', 'the largest that fits'],
            ...scalesOf(display.units).map(
              (scale) => [String(scale.denominator), scaleLabel(scale.denominator, display.units)] as const,
            ),
          ]}
          onChoose={(scale) => setDisplay({ scaleDenominator: scale === '' ? null : Number(scale) })}
        />
      </Section>
      <SheetChanges project={project} />
      {takeoff ? (
        <Section title="Takeoff" aside={`${takeoff.lines.length} parts`}>
          <table className="ledger">
            <tbody>
              {takeoff.lines.map((line) => (
                <tr key={`${line.part} ${line.description} ${line.eachM ?? ''}`}>
                  <th scope="row">{line.description}</th>
                  <td className="figure">
                    {line.unit === 'm' ? printer.tubing(line.quantity) : line.quantity}
                  </td>
                  <td className="unit">{unitOf(line, printer)}</td>
                </tr>
              ))}
            </tbody>
          </table>
          <Line name="Hours of work">{takeoff.labourHours.toFixed(1)}</Line>
          <Reasons of={['parts', 'hours']}>
            <ul>
              {takeoff.labour.map((task) => (
                <li key={task.task}>
                  {TASK_NAMES[task.task] ?? task.task}: {sayFigure(task.quantity, task.unit, printer)},{' '}
                  {task.hours.toFixed(1)} h
                </li>
              ))}
            </ul>
          </Reasons>
        </Section>
      ) : (
        <p className="teach">The sheet and what is to be bought stand here once a bed has tubing.</p>
      )}
      <UsualFigures of="sheet" />
    </>
  );
}
