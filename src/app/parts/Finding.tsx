import type { ReactElement } from 'react';
import { COMMAND_NAMES, type CommandName } from '../../core/plan';
import type { Mend, Printer, Problem } from '../../core/units';
import { sayProblem, saySource, sentenceOf } from '../../core/words';
import { SEVERITY_SYMBOLS } from '../canvas/paint/annotations';
import { PartSymbol } from '../look/PartSymbol';
import { edit } from '../state/edit';
import { sayFigure } from '../state/figure';
import { closeFinding } from '../state/findings';
import { useNames } from '../state/names';
import { usePrinter } from '../state/units';

const SEVERITY_WORDS = { stop: 'Stop', warn: 'Check', note: 'Note' } as const;

/** What was found, its limit, why it matters, its source, and the ways to mend it. */
export function Finding({ finding }: { readonly finding: Problem }): ReactElement {
  const printer = usePrinter();
  const names = useNames();
  const said = sayProblem(finding, printer, names);
  const value = sayFigure(finding.value, finding.unit, printer);
  const limit = sayFigure(finding.limit, finding.unit, printer);
  return (
    <>
      <header className={`finding-head ink-${finding.severity}`}>
        <PartSymbol name={SEVERITY_SYMBOLS[finding.severity]} size={18} />
        <h2>
          {SEVERITY_WORDS[finding.severity]}: {said.what}
        </h2>
        <button type="button" className="act" onClick={closeFinding}>
          Close
        </button>
      </header>
      <dl>
        <Row name="Where">{said.where}</Row>
        {value === '' ? null : <Row name="Found">{value}</Row>}
        {limit === '' ? null : <Row name="Limit">{limit}</Row>}
        <Row name="Why">{said.why}</Row>
        <Row name="Next">{said.next}</Row>
        <Row name="Source">{finding.source ? saySource(finding.source) : ''}</Row>
      </dl>
      {(finding.mends ?? []).map((mend) => (
        <MendLine key={mend.words + mend.command} mend={mend} printer={printer} />
      ))}
    </>
  );
}

function Row({ name, children }: { readonly name: string; readonly children: string }): ReactElement | null {
  if (children === '') return null;
  return (
    <>
      <dt>{name}</dt>
      <dd>{children}</dd>
    </>
  );
}

const isCommandName = (name: string): name is CommandName => COMMAND_NAMES.some((known) => known === name);

function MendLine({
  mend,
  printer,
}: {
  readonly mend: Mend;
  readonly printer: Printer;
}): ReactElement | null {
  const { command } = mend;
  if (!isCommandName(command)) return null;
  const words = sentenceOf(mend.words)?.({}, printer);
  return (
    <button
      type="button"
      className="mend"
      onClick={() => {
        // The slip goes with its finding: the hand is back on the sketch.
        if (edit({ name: command, params: mend.params })) document.getElementById('sketch')?.focus();
      }}
    >
      <strong>{words?.what ?? mend.words}</strong>
      {words && words.next !== '' ? <span>{words.next}</span> : null}
    </button>
  );
}
