export * from './calculations';
export { calendarWords } from './calendar';
export * from './details';
export * from './drawing';
export * from './foresight';
export { LAYOUT_NAMES } from './layout';
export * from './layStrip';
export { editNames, exchangeNames } from './plan';
export * from './plots';
export * from './say';
export * from './sheet';
export {
  DAY_NAMES,
  MONTH_NAMES,
  MONTHS,
  monthName,
  PLANT_NAMES,
  SOIL_NAMES,
  SUN_NAMES,
  soilwaterFigureNames,
} from './soilwater';
export * from './source';
export { TASK_NAMES } from './takeoff';
export * from './types';
export * from './ways';
