export * from './reviewDesign';
export * from './types';
