import type { ReactElement } from 'react';
import { runAction } from '../actions/run';
import { useDesk } from '../state/desk';
import { CheckField } from './CheckField';
import { Section } from './Section';

/** What may lie over the sketch. */
export function OverlayFields(): ReactElement {
  const overlays = useDesk((state) => state.overlays);
  return (
    <Section title="Over the sketch">
      <CheckField
        label="Pressure along the tubing"
        isOn={overlays.pressure}
        onTurn={() => runAction('view.pressure')}
      />
      <CheckField label="Wetted ground" isOn={overlays.wetted} onTurn={() => runAction('view.wetted')} />
      <CheckField label="Ground out of reach" isOn={overlays.gaps} onTurn={() => runAction('view.gaps')} />
      <CheckField
        label="A dot for every emitter, however far off"
        isOn={overlays.emitters}
        onTurn={() => runAction('view.emitters')}
      />
    </Section>
  );
}
