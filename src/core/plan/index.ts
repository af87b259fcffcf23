export * from './empty';
export * from './schema';
