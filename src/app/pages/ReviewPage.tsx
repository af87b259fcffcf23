import type { ReactElement } from 'react';
import type { Problem, Severity } from '../../core/units';
import { sayProblem } from '../../core/words';
import { SEVERITY_SYMBOLS } from '../canvas/paint/annotations';
import { PartSymbol } from '../look/PartSymbol';
import { FieldReadings } from '../parts/FieldReadings';
import { Finding } from '../parts/Finding';
import { Foreseen } from '../parts/Foreseen';
import { Section } from '../parts/Section';
import { Ways } from '../parts/Ways';
import { useDesk } from '../state/desk';
import { findingKeys } from '../state/findingKeys';
import { pressFinding, spotOfFinding } from '../state/findings';
import { useNames } from '../state/names';
import { usePrinter } from '../state/units';

const GROUPS: readonly (readonly [Severity, string])[] = [
  ['stop', 'Stop'],
  ['warn', 'Check'],
  ['note', 'Note'],
];

function summary(findings: readonly Problem[]): string {
  const stops = findings.filter((one) => one.severity === 'stop').length;
  const checks = findings.filter((one) => one.severity === 'warn').length;
  if (stops === 0 && checks === 0) return 'Nothing stands in the way of the sheet.';
  const first =
    stops === 0
      ? 'Nothing stops the sheet.'
      : stops === 1
        ? 'One finding stops the sheet.'
        : `${stops} findings stop the sheet.`;
  const second =
    checks === 0
      ? ''
      : checks === 1
        ? ' One more is worth a look.'
        : ` ${checks} ${stops === 0 ? '' : 'more '}are worth a look.`;
  return first + second;
}

/** Findings by how grave they are; a press goes to the spot and explains. */
export function ReviewPage(): ReactElement {
  const design = useDesk((state) => state.design);
  const open = useDesk((state) => state.finding);
  if (!design) return <p className="teach">Findings stand here once there is a design to look over.</p>;
  const opened = open === null ? undefined : design.findings[open];
  const isPlaceless = opened !== undefined && spotOfFinding(design, opened) === null;
  return (
    <>
      <p>{summary(design.findings)}</p>
      {GROUPS.map(([severity, name]) => (
        <Group key={severity} severity={severity} name={name} findings={design.findings} open={open} />
      ))}
      {opened && isPlaceless ? (
        <section className="section" aria-label="Finding" data-role="finding" tabIndex={-1}>
          <Finding finding={opened} />
        </section>
      ) : null}
      <FieldReadings />
      <Foreseen />
      <Ways />
    </>
  );
}

function Group(props: {
  readonly severity: Severity;
  readonly name: string;
  readonly findings: readonly Problem[];
  readonly open: number | null;
}): ReactElement | null {
  const printer = usePrinter();
  const names = useNames();
  const keys = findingKeys(props.findings);
  const own = props.findings
    .map((finding, index) => ({ finding, index, key: keys[index]! }))
    .filter((one) => one.finding.severity === props.severity);
  if (own.length === 0) return null;
  return (
    <Section title={props.name} aside={own.length}>
      <ul className="findings">
        {own.map(({ finding, index, key }) => {
          const said = sayProblem(finding, printer, names);
          const isOpen = index === props.open;
          return (
            <li key={key}>
              <button
                type="button"
                className={isOpen ? 'finding-line is-chosen' : 'finding-line'}
                aria-expanded={isOpen}
                data-finding={index}
                onClick={(event) => pressFinding(index, event.detail === 0)}
              >
                <span className={`ink-${finding.severity}`}>
                  <PartSymbol name={SEVERITY_SYMBOLS[finding.severity]} size={14} />
                </span>
                <span>
                  <strong>{said.what}</strong>
                  {finding.where.id ? <small>{names[finding.where.id] ?? finding.where.id}</small> : null}
                </span>
              </button>
            </li>
          );
        })}
      </ul>
    </Section>
  );
}
