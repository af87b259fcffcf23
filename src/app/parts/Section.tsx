import type { ReactElement, ReactNode } from 'react';

/** A named part of the figures page, on its ruled lines. */
export function Section(props: {
  readonly title: string;
  readonly aside?: ReactNode;
  readonly children: ReactNode;
}): ReactElement {
  return (
    <section className="section">
      <header>
        <h2>{props.title}</h2>
        {props.aside ? <span className="aside">{props.aside}</span> : null}
      </header>
      {props.children}
    </section>
  );
}

/** A name and its figure on one ruled line. */
export function Line(props: {
  readonly name: ReactNode;
  readonly children: ReactNode;
  readonly isWater?: boolean;
}): ReactElement {
  return (
    <div className="line">
      <span>{props.name}</span>
      <span className={props.isWater ? 'figure water' : 'figure'}>{props.children}</span>
    </div>
  );
}
