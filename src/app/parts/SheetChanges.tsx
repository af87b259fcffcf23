import { type ReactElement, useState } from 'react';
import { bedMark, type Plan } from '../../core/plan';
import { edit } from '../state/edit';
import { Section } from './Section';
import { TextField } from './TextField';

type Project = Plan['project'];

const setProject = (changes: Partial<Project>): boolean => edit({ name: 'set-project', params: { changes } });

/** Changes are numbered; where the last one has a letter, the next letter follows. What stands is not given twice. */
function nextMark(taken: readonly string[]): string {
  const isLettered = /^[A-Z]+$/.test(taken.at(-1) ?? '');
  const markOf = (index: number): string => (isLettered ? bedMark(index) : String(index + 1));
  let index = taken.length;
  while (taken.includes(markOf(index))) index += 1;
  return markOf(index);
}

/** The date of the sheet and every change of it since, as the title block and the table of changes print them. */
export function SheetChanges({ project }: { readonly project: Project }): ReactElement {
  const { revisions } = project;
  const [date, setDate] = useState('');
  const [text, setText] = useState('');
  const mark = nextMark(revisions.map((one) => one.mark));
  const keep = (): void => {
    if (!setProject({ revisions: [...revisions, { mark, date, text }] })) return;
    setDate('');
    setText('');
  };
  return (
    <Section title="Title block" aside={revisions.length === 0 ? '' : `${revisions.length} changes`}>
      <TextField
        label="Date of the sheet"
        value={project.date}
        empty="to fill in"
        onSet={(changed) => setProject({ date: changed })}
      />
      <ul>
        {revisions.map((revision, index) => (
          <li key={`${revision.mark} ${revision.date} ${revision.text}`} className="line">
            <span>
              {revision.mark} {revision.text} <span className="aside">{revision.date}</span>
            </span>
            <button
              type="button"
              className="act"
              aria-label={`Take back change ${revision.mark}`}
              onClick={() => setProject({ revisions: revisions.filter((_one, at) => at !== index) })}
            >
              Take back
            </button>
          </li>
        ))}
      </ul>
      <details>
        <summary>Write a change of the sheet</summary>
        <TextField label={`Change ${mark}`} value={text} empty="what is new" onSet={setText} />
        <TextField label="Changed on" value={date} onSet={setDate} />
        <button type="button" className="mend" disabled={text.trim() === ''} onClick={keep}>
          <strong>Keep this change</strong>
        </button>
      </details>
    </Section>
  );
}
