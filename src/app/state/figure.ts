import type { Printer } from '../../core/units';

/** A figure of a finding or a trace in the plan's units; empty where there is none. */
export function sayFigure(value: number | undefined, unit: string | undefined, print: Printer): string {
  if (value === undefined) return '';
  switch (unit) {
    case 'm':
      return Math.abs(value) < 1 ? print.small(value) : print.length(value);
    case 'm2':
      return print.area(value);
    case 'm3':
      return print.volume(value);
    case 'm3/s':
      return print.flow(value);
    case 'm/s':
      return value < 1e-3 ? print.rate(value) : print.velocity(value);
    case 'm of head':
      return print.pressure(value);
    case 'm of water':
      return print.water(value);
    case 'ratio':
      return print.percent(value);
    case 'rad':
      return `${((value * 180) / Math.PI).toFixed(0)}°`;
    case 's':
      return `${(value / 60).toFixed(0)} min`;
    default:
      return `${Number(value.toPrecision(4))}${unit && unit !== 'count' ? ` ${unit}` : ''}`;
  }
}
