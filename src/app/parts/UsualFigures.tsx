import type { ReactElement } from 'react';
import { DEFAULTS, settingSource } from '../../core/catalog';
import { saySource } from '../../core/words';
import { useDesk } from '../state/desk';
import { printMeasure } from '../state/read';
import { usePrinter } from '../state/units';
import { setUsual } from '../state/usual';
import { type USUAL_FIGURES, usualFiguresOf } from '../usualFigures';
import { QuantityField } from './QuantityField';
import { Section } from './Section';

/** What the job takes for usual on this step, each with its source; set otherwise for this plan, or cleared to be usual again. */
export function UsualFigures({ of }: { readonly of: keyof typeof USUAL_FIGURES }): ReactElement {
  const settings = useDesk((state) => state.history.plan.settings);
  const printer = usePrinter();
  const figures = usualFiguresOf(of, printer.system);
  const ownCount = figures.filter(([key]) => settings[key] !== undefined).length;
  return (
    <Section title="Usual figures" aside={ownCount === 0 ? '' : `${ownCount} of your own`}>
      <details className="usual">
        <summary>Change them for this plan</summary>
        {figures.map(([key, name, measure]) => (
          <QuantityField
            key={key}
            label={name}
            measure={measure}
            value={settings[key] ?? null}
            empty={printMeasure(measure, DEFAULTS[key].value, printer)}
            onSet={(value) => setUsual(key, value)}
          />
        ))}
        <details className="why reasons">
          <summary>
            <span>Why these figures</span>
          </summary>
          {figures.map(([key, name]) => (
            <p key={key}>
              <strong>{name}</strong> <span className="aside">{saySource(settingSource(settings, key))}</span>
            </p>
          ))}
        </details>
      </details>
    </Section>
  );
}
