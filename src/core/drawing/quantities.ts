import { M3_PER_US_GALLON, type Printer, type Quantity } from '../units';

const short = (value: number): string => {
  if (value === 0) return '0';
  const size = Math.abs(value);
  return size >= 1e5 || size < 1e-3 ? value.toExponential(3) : String(Number(value.toPrecision(4)));
};

/** A traced quantity in the chosen units. Small lengths (bores, spacings, roughness) keep inches or millimetres. */
export function quantityText(quantity: Quantity, print: Printer): string {
  const { value, unit } = quantity;
  switch (unit) {
    case 'm':
      return Math.abs(value) < 0.002
        ? `${short(value * 1000)} mm`
        : Math.abs(value) < 1
          ? fineSmall(value, print)
          : print.tubing(value);
    case 'm2':
      return print.area(value);
    case 'm3':
      return Math.abs(value) < 0.05 ? smallVolume(value, print) : print.volume(value);
    case 'm3/s':
      return Math.abs(value) < 3e-6 ? print.emitterFlow(value) : print.flow(value);
    case 'm/s':
      return Math.abs(value) < 1e-4 ? print.rate(value) : print.velocity(value);
    case 'm of head':
      return print.pressure(value);
    case 'm of water':
      return print.water(value);
    case 's':
      return `${short(value / 60)} min`;
    case 'rad':
      return `${short((value * 180) / Math.PI)}°`;
    case 'K':
      return `${short(value - 273.15)} °C`;
    case 'ratio':
    case 'count':
    case 'currency':
      return short(value);
    case 'W':
      return `${short(value)} W`;
    case 'hours of work':
      return `${short(value)} h`;
  }
}

/** What one emitter gives in an hour is lost in whole gallons, and in tenths of a cubic metre. */
function smallVolume(m3: number, print: Printer): string {
  return print.system === 'us' ? `${short(m3 / M3_PER_US_GALLON)} gal` : `${short(m3 * 1000)} L`;
}

/** Spacings to the quarter inch hide a bore; three figures do not. */
function fineSmall(m: number, print: Printer): string {
  return print.system === 'us'
    ? `${short(Number((m / 0.0254).toPrecision(3)))} in`
    : `${short(Number((m * 1000).toPrecision(3)))} mm`;
}
