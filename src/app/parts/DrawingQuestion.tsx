import { type ReactElement, useEffect, useState } from 'react';
import {
  DRAWING_UNITS,
  type DrawingReading,
  type DrawingUnit,
  LAYER_KINDS,
  type LayerKind,
} from '../../core/exchange';
import type { Outcome } from '../../core/units';
import { usePrinter } from '../state/units';
import { ChoiceField } from './ChoiceField';
import { Onward } from './Onward';
import { Line } from './Section';

export interface DrawingChoice {
  readonly unit: DrawingUnit;
  readonly layers: Readonly<Record<string, LayerKind>>;
}

const UNIT_NAMES: Readonly<Record<DrawingUnit, string>> = {
  in: 'inches',
  ft: 'feet',
  mm: 'millimetres',
  cm: 'centimetres',
  m: 'metres',
};
const KIND_NAMES: Readonly<Record<LayerKind, string>> = {
  bed: 'beds',
  building: 'buildings',
  paving: 'paving',
  fence: 'fences',
  obstacle: 'obstacles',
  tree: 'trees',
  utility: 'buried lines',
  reference: 'faint lines to trace',
  'leave-out': 'nothing: leave it out',
};
const UNIT_FROM: Readonly<Record<DrawingReading['unitFrom'], string>> = {
  file: 'The file says its unit.',
  guess: 'The file does not say its unit: look at the size below before taking it.',
  given: '',
};

/** The drawing as read with the choices made so far; null while it is read again. Leaving the question stops the reading. */
function useReading(
  first: DrawingReading,
  read: (choice: DrawingChoice, signal: AbortSignal) => Promise<Outcome<DrawingReading>>,
) {
  const [choice, setChoice] = useState<DrawingChoice>({
    unit: first.unit,
    layers: Object.fromEntries(first.layers.map((layer) => [layer.name, layer.kind])),
  });
  const [reading, setReading] = useState<Outcome<DrawingReading> | null>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: a choice is the reason to read again
  useEffect(() => {
    const control = new AbortController();
    setReading(null);
    void read(choice, control.signal).then(setReading, () => undefined);
    return () => control.abort();
  }, [choice]);
  return { choice, setChoice, reading };
}

/** In what unit a drawing is, and what each of its layers becomes; the size it would have on the plan stands below. */
export function DrawingQuestion(props: {
  readonly name: string;
  readonly first: DrawingReading;
  readonly read: (choice: DrawingChoice, signal: AbortSignal) => Promise<Outcome<DrawingReading>>;
  readonly onAnswer: (reading: Outcome<DrawingReading>) => void;
}): ReactElement {
  const { first } = props;
  const printer = usePrinter();
  const { choice, setChoice, reading } = useReading(first, props.read);
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        if (reading) props.onAnswer(reading);
      }}
    >
      <h1>{props.name}</h1>
      <p className="teach">{UNIT_FROM[first.unitFrom]}</p>
      <ChoiceField
        label="One unit of it is"
        value={choice.unit}
        choices={(Object.keys(DRAWING_UNITS) as DrawingUnit[]).map((unit) => [unit, UNIT_NAMES[unit]])}
        onChoose={(unit) => setChoice({ ...choice, unit: unit as DrawingUnit })}
      />
      {reading === null || reading.ok ? (
        <Line name="Then it is">
          {reading === null
            ? 'reading it again'
            : `${printer.length(reading.value.widthM)} by ${printer.length(reading.value.heightM)}`}
        </Line>
      ) : null}
      <h2>Layers</h2>
      <div className="question-layers">
        {first.layers.map((layer) => (
          <ChoiceField
            key={layer.name}
            label={`${layer.name} (${layer.count})`}
            value={choice.layers[layer.name] ?? layer.kind}
            choices={LAYER_KINDS.map((kind) => [kind, KIND_NAMES[kind]])}
            onChoose={(kind) =>
              setChoice({ ...choice, layers: { ...choice.layers, [layer.name]: kind as LayerKind } })
            }
          />
        ))}
      </div>
      <Onward words="Put it on the plan" />
    </form>
  );
}
