import { type ReactElement, useRef } from 'react';
import type { Design } from '../../core/design';
import { foresightTables } from '../../core/drawing';
import { isStale, useDesk } from '../state/desk';
import { usePrinter } from '../state/units';
import { Reasons } from './Reasons';
import { Section } from './Section';

/**
 * What the crew may find and what it would mean: the tables of the commissioning page, as they will be printed. While a
 * changed plan is worked out the last ones stay, marked stale.
 */
export function Foreseen(): ReactElement | null {
  const newest = useDesk((state) => state.design);
  const isBehind = useDesk(isStale);
  const printer = usePrinter();
  const last = useRef<Design | null>(null);
  if (newest?.foresight) last.current = newest;
  if (!newest || newest.supply.zones.length === 0) return null;
  const design = last.current?.plan.id === newest.plan.id ? last.current : newest;
  const stale = isBehind || design !== newest;
  if (design.foresight === null)
    return (
      <Section title="What the crew may find" aside="being worked out">
        <p className="teach">
          Once the design stands, every single fault and every source pressure is tried on paper.
        </p>
      </Section>
    );
  return (
    <>
      {foresightTables(design, printer).map(({ table, note }) => (
        <Section key={table.key} title={table.title} aside={stale ? 'stale' : undefined}>
          <table className={stale ? 'ledger is-stale' : 'ledger'}>
            <thead>
              <tr>
                {table.columns.map((column) => (
                  <th
                    key={column.title}
                    scope="col"
                    className={column.align === 'end' ? 'figure' : undefined}
                  >
                    {column.title}
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {table.rows.map((row) => (
                <tr key={row.join('|')}>
                  {row.map((cell, index) => {
                    const column = table.columns[index];
                    const classes = [column?.align === 'end' ? 'figure' : '', column?.water ? 'water' : ''];
                    return (
                      <td key={column?.title} className={classes.filter(Boolean).join(' ') || undefined}>
                        {cell}
                      </td>
                    );
                  })}
                </tr>
              ))}
            </tbody>
          </table>
          {note === '' ? null : <p className="aside">{note}</p>}
          <Reasons of={['foreseen']} />
        </Section>
      ))}
    </>
  );
}
