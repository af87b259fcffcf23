export { type PointsOptions, readPointsCsv } from './csv/points';
export { scheduleCsv } from './csv/scheduleCsv';
export { cutsCsv, orderCsv, takeoffCsv } from './csv/takeoffCsv';
export { type Cell, csvText } from './csv/text';
export { waysCsv, waysJsonText } from './csv/waysCsv';
export { DESIGN_JSON_VERSION, designJson, designJsonText, emittersJsonText, namesOf } from './designJson';
export { designSchema } from './designSchema';
export {
  asksForChoice,
  DRAWING_UNITS,
  type DrawingOptions,
  type DrawingReading,
  type DrawingUnit,
  LAYER_KINDS,
  type LayerKind,
  readDxf,
} from './dxf/read';
export { writeDxf } from './dxf/write';
export {
  type ConstantsProfile,
  type InpNetwork,
  type InpOptions,
  type InpZone,
  readInp,
  writeZoneInp,
} from './epanet';
export { type GeoJsonOptions, readGeoJson } from './geojson/read';
export { writeGeoJson, writePlanGeoJson } from './geojson/write';
export { daysInMonth, type IcalOptions, weekdayOf, writeIcal } from './ical';
export { MOST_PICTURE_BYTES, type PictureHead, pictureProblem, readPictureHead } from './picture/head';
export { PDF_LIMITS, type PdfFault, pdfProblem } from './picture/pdf';
