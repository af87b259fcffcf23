import { type ReactElement, type ReactNode, useEffect, useRef, useState } from 'react';
import { soilClassSchema } from '../../core/plan';
import { sayProblem } from '../../core/words';
import { CheckField } from '../parts/CheckField';
import { ChoiceField } from '../parts/ChoiceField';
import { Dialog } from '../parts/Dialog';
import { FlowTests } from '../parts/FlowTests';
import { QuantityField } from '../parts/QuantityField';
import { TextField } from '../parts/TextField';
import { type Step, useDesk } from '../state/desk';
import { edit } from '../state/edit';
import { drawFirstBed, setFirstSource } from '../state/firstBed';
import { currentPrinter, otherPrinter, usePrinter } from '../state/units';
import { readEntry, sayEntry } from '../tools/entry';
import { SOIL_NAMES } from '../wording';

const LEAVES = ['The site', 'The water', 'The first bed'] as const;

/** Leaves the walk-through at the step where the work goes on. */
const goOnAt = (step: Step): void => useDesk.setState({ panel: 'none', step });

/** Three short leaves for a new plan: where it is, what the water gives, and a first bed. Every answer may be left open. */
export function WalkThrough(): ReactElement {
  const [at, setAt] = useState(0);
  const next = (): void => setAt(at + 1);
  const leaf = useRef<HTMLDivElement>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another leaf is the reason to go to its first field
  useEffect(() => leaf.current?.querySelector('input')?.focus(), [at]);
  return (
    <Dialog label="New plan" className="walk-through">
      <header className="help-head">
        <h1>{LEAVES[at]}</h1>
        <span className="aside">
          {at + 1} of {LEAVES.length}
        </span>
      </header>
      <div ref={leaf}>
        {at === 0 ? <SiteLeaf onNext={next} /> : null}
        {at === 1 ? <WaterLeaf onNext={next} onBack={() => setAt(0)} /> : null}
        {at === 2 ? <BedLeaf onBack={() => setAt(1)} /> : null}
      </div>
    </Dialog>
  );
}

function Onward(props: { readonly onBack?: () => void; readonly children: ReactNode }): ReactElement {
  return (
    <footer className="onward">
      {props.onBack ? (
        <button type="button" className="act" onClick={props.onBack}>
          Back
        </button>
      ) : null}
      <button type="button" className="act" onClick={() => goOnAt('site')}>
        Empty sketch
      </button>
      {props.children}
    </footer>
  );
}

function SiteLeaf({ onNext }: { readonly onNext: () => void }): ReactElement {
  const plan = useDesk((state) => state.history.plan);
  const { project, site, display } = plan;
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        onNext();
      }}
    >
      <p className="teach">What is not known yet stays open; the design says what it assumes instead.</p>
      <TextField
        label="Title"
        empty="whose garden, which lot"
        value={project.title}
        onSet={(title) => edit({ name: 'set-project', params: { changes: { title } } })}
      />
      <TextField
        label="Place"
        value={project.place}
        onSet={(place) => edit({ name: 'set-project', params: { changes: { place } } })}
      />
      <ChoiceField
        label="Written in"
        value={display.units}
        choices={[
          ['us', 'feet and inches, gallons, psi'],
          ['metric', 'metres, litres, kPa'],
        ]}
        onChoose={(units) => edit({ name: 'set-display', params: { changes: { units } } })}
      />
      <ChoiceField
        label="Soil"
        value={site.soil ?? ''}
        choices={[
          ['', 'not known'],
          ...soilClassSchema.options.map((key) => [key, SOIL_NAMES[key]] as const),
        ]}
        onChoose={(soil) => edit({ name: 'set-site', params: { changes: { soil: soil || null } } })}
      />
      <Onward>
        <button type="submit" className="mend">
          <strong>The water</strong>
        </button>
      </Onward>
    </form>
  );
}

function WaterLeaf(props: { readonly onNext: () => void; readonly onBack: () => void }): ReactElement {
  const source = useDesk((state) => Object.values(state.history.plan.sources)[0]);
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        props.onNext();
      }}
    >
      <p className="teach">
        Put a gauge on a tap near the connection, with nothing running; then run a tap into a bucket.
      </p>
      <QuantityField
        label="Pressure, nothing running"
        measure="pressure"
        value={source?.staticHeadM ?? null}
        empty="not measured"
        onSet={(staticHeadM) => setFirstSource({ staticHeadM })}
      />
      <QuantityField
        label="Flow drawn"
        measure="flow"
        value={source?.flowTestM3s ?? null}
        empty="not measured"
        onSet={(flowTestM3s) => setFirstSource({ flowTestM3s })}
      />
      <QuantityField
        label="Pressure meanwhile"
        measure="pressure"
        value={source?.flowTestHeadM ?? null}
        empty="not measured"
        onSet={(flowTestHeadM) => setFirstSource({ flowTestHeadM })}
      />
      <FlowTests onFlow={(changes) => setFirstSource(changes)} />
      <p className="aside">The connection lies beside the first bed until you place it on the Water page.</p>
      <Onward onBack={props.onBack}>
        <button type="submit" className="mend">
          <strong>The first bed</strong>
        </button>
      </Onward>
    </form>
  );
}

function BedLeaf({ onBack }: { readonly onBack: () => void }): ReactElement {
  const printer = usePrinter();
  const [text, setText] = useState('');
  const [refusal, setRefusal] = useState('');
  const [isAgainstHouse, setAgainstHouse] = useState(false);
  const read = text.trim() === '' ? null : readEntry(text, printer.system);
  const size = read?.ok && read.value.kind === 'size' ? read.value : null;
  const draw = (): void => {
    if (size && size.eastM > 0 && size.northM > 0) {
      if (drawFirstBed(size.eastM, size.northM, isAgainstHouse)) goOnAt('beds');
      return;
    }
    const problem = read && !read.ok ? read.problems[0] : undefined;
    setRefusal(problem ? sayProblem(problem, currentPrinter()).what : "Write two lengths: 12'6 x 20'.");
  };
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        draw();
      }}
    >
      <p className="teach">
        Write how far it runs east and north. Any other shape is traced on the sketch, corner by corner.
      </p>
      <div className="field">
        <label htmlFor="first-bed">Size</label>
        <input
          id="first-bed"
          className="figure"
          placeholder={printer.system === 'us' ? "12'6 x 20'" : '3.8 m x 6 m'}
          value={text}
          autoComplete="off"
          aria-invalid={refusal !== ''}
          aria-describedby="first-bed-read"
          onChange={(event) => {
            setText(event.target.value);
            setRefusal('');
          }}
        />
        <output id="first-bed-read" className={refusal === '' ? 'aside' : 'refusal'}>
          {refusal !== '' ? refusal : size ? sayEntry(size, printer, otherPrinter(printer)) : ''}
        </output>
      </div>
      <CheckField
        label="Its north side stands against a house"
        isOn={isAgainstHouse}
        onTurn={setAgainstHouse}
      />
      <Onward onBack={onBack}>
        <button type="button" className="act" onClick={() => goOnAt('beds')}>
          Trace it instead
        </button>
        <button type="submit" className="mend">
          <strong>Draw it</strong>
        </button>
      </Onward>
    </form>
  );
}
