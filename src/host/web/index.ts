export { browserHost } from './browserHost';
export { pickHost } from './pickHost';
