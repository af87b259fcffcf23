export * from './canvas';
export * from './fonts';
export * from './looks';
export * from './pdf';
export * from './svg';
