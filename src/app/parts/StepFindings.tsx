import type { ReactElement } from 'react';
import { sayProblem } from '../../core/words';
import { SEVERITY_SYMBOLS } from '../canvas/paint/annotations';
import { PartSymbol } from '../look/PartSymbol';
import { type Step, useDesk } from '../state/desk';
import { findingKeys } from '../state/findingKeys';
import { pressFinding, spotOfFinding } from '../state/findings';
import { useNames } from '../state/names';
import { stepOfFinding } from '../state/stepStates';
import { usePrinter } from '../state/units';
import { Finding } from './Finding';
import { Section } from './Section';

/** What the level of a step counts, said on its own page; a press opens the slip on the sketch. */
export function StepFindings({ step }: { readonly step: Step }): ReactElement | null {
  const design = useDesk((state) => state.design);
  const open = useDesk((state) => state.finding);
  const printer = usePrinter();
  const names = useNames();
  const found = design?.findings ?? [];
  const keys = findingKeys(found);
  const own = found
    .map((finding, index) => ({ finding, index, key: keys[index]! }))
    .filter(({ finding }) => finding.severity !== 'note' && stepOfFinding(finding) === step);
  if (!design || own.length === 0) return null;
  const opened = own.find(({ index }) => index === open)?.finding;
  return (
    <Section title="Wants a look" aside={own.length}>
      <ul className="findings">
        {own.map(({ finding, index, key }) => (
          <li key={key}>
            <button
              type="button"
              className={index === open ? 'finding-line is-chosen' : 'finding-line'}
              aria-expanded={index === open}
              data-finding={index}
              onClick={(event) => pressFinding(index, event.detail === 0)}
            >
              <span className={`ink-${finding.severity}`}>
                <PartSymbol name={SEVERITY_SYMBOLS[finding.severity]} size={14} />
              </span>
              <strong>{sayProblem(finding, printer, names).what}</strong>
            </button>
          </li>
        ))}
      </ul>
      {opened && spotOfFinding(design, opened) === null ? (
        <section aria-label="Finding" data-role="finding" tabIndex={-1}>
          <Finding finding={opened} />
        </section>
      ) : null}
    </Section>
  );
}
