import type { Host } from '../contract';
import { browserHost } from './browserHost';
import { isServed, servedHost } from './servedHost';
import { windowHost } from './windowHost';

/** The host of this page: the desktop shell's, the loopback server's, or the bare browser's. */
export const pickHost = (): Host => windowHost() ?? (isServed() ? servedHost() : browserHost());
