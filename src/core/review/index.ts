export * from './reviewDesign';
export { type RootBallReach, rootBallReach } from './rootBalls';
export * from './types';
