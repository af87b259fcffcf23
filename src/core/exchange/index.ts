export { DESIGN_JSON_VERSION, designJson, designJsonText, emittersJsonText, namesOf } from './designJson';
export {
  type ConstantsProfile,
  type InpNetwork,
  type InpOptions,
  type InpZone,
  readInp,
  writeZoneInp,
} from './epanet';
export { type GeoJsonOptions, readGeoJson } from './geojson/read';
