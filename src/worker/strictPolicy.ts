import { config } from 'zod';

// The schema library would compile its checks with `Function`, which the page's content policy forbids: it is told not to try.
config({ jitless: true });
