import type { ReactElement } from 'react';
import { useTool } from '../state/tools';
import { usePrinter } from '../state/units';
import { type MeasureState, measured, measuredPath } from '../tools/measure';
import { Line, Section } from './Section';

const degrees = (angleRad: number): string => `${((angleRad * 180) / Math.PI).toFixed(1)}°`;

/** What the measuring tool reads, figure by figure, for as long as it is out. */
export function MeasureFields(): ReactElement | null {
  const state = useTool((tool) => (tool.key === 'measure' ? (tool.state as MeasureState) : null));
  const printer = usePrinter();
  const figures = state ? measured(measuredPath(state)) : null;
  if (!state) return null;
  if (!figures)
    return <p className="teach">Place two points for a length, three for an angle and an area.</p>;
  return (
    <Section title="Measured">
      <Line name="Length, all along">{printer.length(figures.lengthM)}</Line>
      <Line name="Last stretch">{printer.length(figures.lastM)}</Line>
      <Line name="Its bearing, from up">{degrees(figures.bearingRad)}</Line>
      {figures.angleRad === null ? null : <Line name="Angle at the corner">{degrees(figures.angleRad)}</Line>}
      {figures.areaM2 === null ? null : <Line name="Ground inside">{printer.area(figures.areaM2)}</Line>}
    </Section>
  );
}
