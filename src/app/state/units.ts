import { type Printer, printer, type UnitSystem } from '../../core/units';
import { useDesk } from './desk';

const printers: Readonly<Record<UnitSystem, Printer>> = { us: printer('us'), metric: printer('metric') };

/** The printer of the plan's units, for code outside a component. */
export const currentPrinter = (): Printer => printers[useDesk.getState().history.plan.display.units];
/** The printer of the plan's units; stored figures never change with it. */
export const usePrinter = (): Printer => printers[useDesk((state) => state.history.plan.display.units)];
/** The printer of the other system, for saying an entry both ways. */
export const otherPrinter = (one: Printer): Printer => printers[one.system === 'us' ? 'metric' : 'us'];
