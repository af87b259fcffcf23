export { type GeoJsonOptions, readGeoJson } from './geojson/read';
