export * from './defaults';
export { type CatalogPart, mergeParts, readPartsFile } from './partsFile';
export { partsFileSchema } from './partsSchema';
export * from './types';
export * from './typical';
