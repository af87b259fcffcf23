import type { ReactElement, ReactNode } from 'react';
import { REASONS, type ReasonKey } from '../reasons';

/** The figures above it answer why: how each kind of them comes about, and on what it rests. */
export function Reasons(props: {
  readonly of: readonly ReasonKey[];
  readonly children?: ReactNode;
}): ReactElement {
  return (
    <details className="why reasons">
      <summary>
        <span>{props.of.length === 1 ? 'Why this figure' : 'Why these figures'}</span>
      </summary>
      {props.of.map((key) => {
        const { name, how, source } = REASONS[key];
        return (
          <p key={key}>
            <strong>{name}</strong> {how} <span className="aside">{source}</span>
          </p>
        );
      })}
      {props.children}
    </details>
  );
}
