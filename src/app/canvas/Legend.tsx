import { type ReactElement, useMemo } from 'react';
import type { DesignedBed } from '../../core/design';
import { useDesk } from '../state/desk';
import { usePrinter } from '../state/units';
import { CLASSES, type PressureRamp, pressureRamp } from './shape/pressure';

const STEP_PX = 46;
const SWELL_PX = [1.5, 2, 2.6, 3.4, 4.4, 5.6] as const;

/** What the colours over the sketch mean: pressure along the tubing, thicker and further from the ground is more; wetted ground. */
export function Legend(): ReactElement | null {
  const design = useDesk((state) => state.design);
  const overlays = useDesk((state) => state.overlays);
  const isSheet = useDesk((state) => state.step === 'sheet');
  const printer = usePrinter();
  const ramp = useMemo(() => (design ? pressureRamp(design, printer.system) : null), [design, printer]);
  const isRamp = ramp !== null && overlays.pressure;
  const isWetted = overlays.wetted && (design?.beds.length ?? 0) > 0;
  if (isSheet || !design || (!isRamp && !isWetted)) return null;
  return (
    <div className="legend">
      {isWetted ? <WettedWords beds={design.beds} /> : null}
      {isRamp ? <RampScale ramp={ramp} /> : null}
    </div>
  );
}

/** Across which widths an emitter wets, and what washed and lined ground are. */
function WettedWords({ beds }: { readonly beds: readonly DesignedBed[] }): ReactElement {
  const printer = usePrinter();
  const low = Math.min(...beds.map((bed) => bed.choice.wettedDiameterM.low));
  const high = Math.max(...beds.map((bed) => bed.choice.wettedDiameterM.high));
  return (
    <figure aria-label="Wetted ground">
      <figcaption className="water">
        Wetted ground, {printer.small(low)} to {printer.small(high)} across
      </figcaption>
      <p>Washed: the drier model. Lined: the wetter.</p>
      <p>Strokes: may stay dry, rows lying worst.</p>
      <p>Both models are from memory.</p>
    </figure>
  );
}

function RampScale({ ramp }: { readonly ramp: PressureRamp }): ReactElement {
  const printer = usePrinter();
  const first = ramp.boundsHeadM[0] ?? 0;
  const last = ramp.boundsHeadM[CLASSES] ?? 1;
  const lowestX = ((ramp.lowestHeadM - first) / (last - first)) * CLASSES * STEP_PX;
  const unit = printer.pressure(0).replace(/^[\d.]+ /, '');
  const bare = (headM: number): string => printer.pressure(headM).replace(/ .*$/, '').replace(/\.0$/, '');
  return (
    <figure aria-label={`Pressure along the tubing, lowest ${printer.pressure(ramp.lowestHeadM)}`}>
      <figcaption className="water">Pressure along the tubing, {unit}</figcaption>
      <svg
        viewBox={`-14 0 ${CLASSES * STEP_PX + 28} 42`}
        width={CLASSES * STEP_PX + 28}
        height={42}
        aria-hidden="true"
      >
        <path d={`M${lowestX - 4} 1h8l-4 6z`} className="legend-mark" />
        {SWELL_PX.map((width, index) => (
          <line
            key={width}
            x1={index * STEP_PX}
            x2={(index + 1) * STEP_PX}
            y1={14}
            y2={14}
            strokeWidth={width}
            className={`ramp-${index + 1}`}
          />
        ))}
        {ramp.boundsHeadM.map((bound, index) => (
          <g key={bound}>
            <line x1={index * STEP_PX} x2={index * STEP_PX} y1={18} y2={23} className="legend-tick" />
            <text x={index * STEP_PX} y={37} textAnchor="middle" className="legend-figure">
              {bare(bound)}
            </text>
          </g>
        ))}
      </svg>
      <p>
        Lowest <span className="water">{printer.pressure(ramp.lowestHeadM)}</span>. Thicker is more.
      </p>
    </figure>
  );
}
