import type { ReactElement } from 'react';

export type LevelState = 'empty' | 'good' | 'attention';

const BUBBLE_X = { empty: 0, good: 22, attention: 35 } as const;

/** A spirit level: the bubble's place says the state before any colour does. */
export function Level({ state }: { readonly state: LevelState }): ReactElement {
  return (
    <svg className={`level level-${state}`} viewBox="0 0 44 13" width={44} height={13} aria-hidden="true">
      <rect x={0.75} y={0.75} width={42.5} height={11.5} rx={5.75} className="level-vial" />
      <path d="M15 1V12M29 1V12" className="level-line" />
      {state === 'empty' ? null : (
        <ellipse cx={BUBBLE_X[state]} cy={6.5} rx={5} ry={4} className="level-bubble" />
      )}
    </svg>
  );
}
