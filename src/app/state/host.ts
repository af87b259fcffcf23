import type { Host } from '../../host/contract';
import { pickHost } from '../../host/web';

/** The outside, whichever it is: the desktop shell, the loopback server, or the bare browser. */
export const host: Host = pickHost();
