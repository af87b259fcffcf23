export * from './frame';
export * from './host';
