import { type ReactElement, useEffect, useRef } from 'react';
import { planToScreen, screenToPlan } from '../../core/geometry';
import { METRES_PER_FOOT } from '../../core/units';
import { PartSymbol } from '../look/PartSymbol';
import { catchIndexNow, commitEntry, putAway, tell, typeEntry, useTool } from '../state/tools';
import { otherPrinter, usePrinter } from '../state/units';
import { useView } from '../state/view';
import { readEntry, sayEntry, sayPlace } from '../tools/entry';
import { TOOLS } from '../tools/toolTable';
import { CATCH_WORDS } from '../wording';
import { useCaught } from './gestureState';
import { useDeviceRatio } from './useDeviceRatio';
import { usePalette } from './usePalette';

/** Numbered divisions, in units of the plan's system. */
const DIVISIONS = [0.1, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000] as const;
const LEAST_NUMBER_PX = 68;
const SCALE_HEIGHT_PX = 30;

/** The measuring rule laid under the sketch: its true scale, the hair, what is typed, how it was read, and what is caught. */
export function Rule(): ReactElement {
  return (
    <section className="rule" aria-label="Measuring rule">
      <Scale />
      <div className="rule-line">
        <Entry />
        <Caught />
        <Readout />
      </div>
    </section>
  );
}

function Scale(): ReactElement {
  const canvas = useRef<HTMLCanvasElement>(null);
  const { view, widthPx } = useView();
  const pointer = useTool((state) => state.pointer);
  const printer = usePrinter();
  const palette = usePalette();
  const ratio = useDeviceRatio();
  useEffect(() => {
    const element = canvas.current;
    const context = element?.getContext('2d');
    if (!element || !context) return;
    element.width = Math.round(widthPx * ratio);
    element.height = Math.round(SCALE_HEIGHT_PX * ratio);
    context.setTransform(ratio, 0, 0, ratio, 0, 0);
    context.clearRect(0, 0, widthPx, SCALE_HEIGHT_PX);
    const unitM = printer.system === 'us' ? METRES_PER_FOOT : 1;
    const unitName = printer.system === 'us' ? 'ft' : 'm';
    const division = DIVISIONS.find((one) => one * unitM * view.pixelsPerM >= LEAST_NUMBER_PX) ?? 1000;
    const first = Math.floor(screenToPlan({ x: 0, y: 0 }, view).x / unitM / division);
    const last = Math.ceil(screenToPlan({ x: widthPx, y: 0 }, view).x / unitM / division);
    context.strokeStyle = palette.ink.ink;
    context.fillStyle = palette.ink['ink-2'];
    context.font = '11px Asap';
    context.textAlign = 'center';
    context.lineWidth = 1;
    context.beginPath();
    for (let number = first; number <= last; number++) {
      for (let tenth = 0; tenth < 10; tenth++) {
        const x = planToScreen({ x: (number + tenth / 10) * division * unitM, y: 0 }, view).x;
        context.moveTo(x, 0);
        context.lineTo(x, tenth === 0 ? 13 : tenth === 5 ? 9 : 6);
      }
      const x = planToScreen({ x: number * division * unitM, y: 0 }, view).x;
      const value = Number((number * division).toFixed(1));
      context.fillText(number === 0 ? `0 ${unitName}` : String(value), x, 25);
    }
    context.stroke();
  }, [view, widthPx, printer, palette, ratio]);
  const hairX = pointer ? planToScreen(pointer, view).x : null;
  return (
    <div className="rule-scale">
      <canvas ref={canvas} className="rule-canvas" />
      {hairX === null ? null : <i className="hair" style={{ transform: `translateX(${hairX}px)` }} />}
    </div>
  );
}

function Entry(): ReactElement {
  const key = useTool((state) => state.key);
  const state = useTool((one) => one.state);
  const typed = useTool((one) => one.typed);
  const refusal = useTool((one) => one.refusal);
  const printer = usePrinter();
  const prompt =
    key === null
      ? 'Choose something on the sketch, or an act at the head of the page.'
      : TOOLS[key].prompt(state);
  const read = typed.trim() === '' ? null : readEntry(typed, printer.system);
  const echo = read?.ok
    ? `${sayEntry(read.value, printer, otherPrinter(printer))}. Return places it.`
    : prompt;
  return (
    <>
      <input
        id="rule-entry"
        className="rule-entry"
        aria-label="Typed length, size or place"
        aria-describedby="rule-echo"
        autoComplete="off"
        spellCheck={false}
        disabled={key === null}
        value={typed}
        onChange={(event) => typeEntry(event.target.value)}
        onKeyDown={(event) => {
          if (event.key === 'Enter') {
            event.preventDefault();
            commitEntry();
          } else if (event.key === 'Escape') {
            event.stopPropagation();
            if (typed === '') {
              putAway();
              document.getElementById('sketch')?.focus();
            } else typeEntry('');
          } else if (event.key === 'Backspace' && typed === '') tell({ kind: 'back' });
        }}
      />
      <output id="rule-echo" className={refusal === '' ? 'rule-echo' : 'rule-echo is-refused'}>
        {refusal === '' ? echo : refusal}
      </output>
    </>
  );
}

function Caught(): ReactElement | null {
  const caught = useCaught();
  if (!caught) return <span className="rule-catch" />;
  const owner = caught.chain === null ? '' : catchIndexNow().ownerOf(caught.chain);
  return (
    <span className="rule-catch">
      <PartSymbol name={`catch-${caught.kind}`} size={20} />
      {CATCH_WORDS[caught.kind]}
      {owner === '' ? '' : ` of ${owner}`}
    </span>
  );
}

function Readout(): ReactElement {
  const pointer = useTool((state) => state.pointer);
  const printer = usePrinter();
  return <span className="rule-place">{pointer ? sayPlace(pointer, printer) : ''}</span>;
}
