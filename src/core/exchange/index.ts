export {
  type ConstantsProfile,
  type InpNetwork,
  type InpOptions,
  type InpZone,
  readInp,
  writeZoneInp,
} from './epanet';
export { type GeoJsonOptions, readGeoJson } from './geojson/read';
