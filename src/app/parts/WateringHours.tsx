import { type ReactElement, useId, useState } from 'react';
import type { Plan } from '../../core/plan';
import { say } from '../state/desk';
import { edit } from '../state/edit';
import { Section } from './Section';

type Window = Plan['site']['wateringWindow'];

const DAYS = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat'] as const;
const DAY_MIN = 24 * 60;

/** Minutes after midnight as the system's own field for times writes them. */
const asTime = (minutes: number): string => {
  const ofDay = minutes % DAY_MIN;
  return [Math.floor(ofDay / 60), ofDay % 60].map((part) => String(part).padStart(2, '0')).join(':');
};
const asMinutes = (time: string): number | null => {
  const [hours, minutes] = time.split(':').map(Number);
  return hours === undefined || minutes === undefined || !Number.isFinite(hours + minutes)
    ? null
    : hours * 60 + minutes;
};

/** When watering is allowed: between which hours, past midnight too, and on which days. */
export function WateringHours({ window }: { readonly window: Window }): ReactElement {
  const set = (changes: Partial<Window>): void => {
    const next = { ...window, ...changes };
    const fromMin = next.fromMin;
    // An end that is not after the start is meant for the next morning.
    const ofDay = next.toMin % DAY_MIN;
    const toMin = ofDay > fromMin ? ofDay : ofDay + DAY_MIN;
    edit({ name: 'set-site', params: { changes: { wateringWindow: { ...next, fromMin, toMin } } } });
  };
  const turn = (day: number): void => {
    const days = window.days.includes(day)
      ? window.days.filter((one) => one !== day)
      : [...window.days, day].sort((a, b) => a - b);
    if (days.length > 0) set({ days });
    else say('One day a week at least is for watering.', 'note', 'Press another day first.');
  };
  return (
    <Section title="Watering allowed" aside={window.toMin > DAY_MIN ? 'past midnight' : ''}>
      <TimeField label="From" minutes={window.fromMin} onSet={(fromMin) => set({ fromMin })} />
      <TimeField label="Until" minutes={window.toMin} onSet={(toMin) => set({ toMin })} />
      <div className="acts" role="toolbar" aria-label="Days of watering">
        {DAYS.map((name, day) => (
          <button
            key={name}
            type="button"
            className={window.days.includes(day) ? 'act is-out' : 'act'}
            aria-pressed={window.days.includes(day)}
            onClick={() => turn(day)}
          >
            {name}
          </button>
        ))}
      </div>
    </Section>
  );
}

function TimeField(props: {
  readonly label: string;
  readonly minutes: number;
  readonly onSet: (minutes: number) => void;
}): ReactElement {
  const id = useId();
  // Kept when the field is left: hour and minute are typed one after the other, and each alone is no edit.
  const [draft, setDraft] = useState<string | null>(null);
  const commit = (): void => {
    const minutes = draft === null ? null : asMinutes(draft);
    if (minutes !== null && minutes !== props.minutes % DAY_MIN) props.onSet(minutes);
    setDraft(null);
  };
  return (
    <div className="field">
      <label htmlFor={id}>{props.label}</label>
      <input
        id={id}
        type="time"
        className="figure"
        value={draft ?? asTime(props.minutes)}
        onChange={(event) => setDraft(event.target.value)}
        onBlur={commit}
        onKeyDown={(event) => {
          if (event.key === 'Enter') commit();
        }}
      />
    </div>
  );
}
