import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const core = fileURLToPath(new URL('../../src/core', import.meta.url));
/** Rooms whose figures must come out alike in the window and on the command line, to the last decimal. */
const ROOMS = ['geometry', 'layout'];
/** Where they are rounded; and what a drawing hand constructs, which is kept in the plan as it came out. */
const ALLOWED = [join('geometry', 'steady.ts'), join('geometry', 'construct.ts')];
/** Functions that engines are free to round as they like. Source: ECMAScript, "implementation-approximated". */
const APPROXIMATED = /Math\.(sin|cos|tan|asin|acos|atan|atan2|exp|log|log2|log10|pow|cbrt|sinh|cosh|tanh)\b/;

const sourcesOf = (room: string): string[] =>
  readdirSync(join(core, room), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts'))
    .map((name) => join(room, name));

describe('the same route in every engine', () => {
  it('takes angles and powers from geometry, which rounds what engines round differently', () => {
    const offenders = ROOMS.flatMap(sourcesOf).filter(
      (name) => !ALLOWED.includes(name) && APPROXIMATED.test(readFileSync(join(core, name), 'utf8')),
    );
    expect(offenders).toEqual([]);
  });

  it('would notice a sine of its own', () => {
    expect(APPROXIMATED.test('const x = Math.sin(angle);')).toBe(true);
    expect(APPROXIMATED.test('const x = Math.sqrt(area) + Math.hypot(a, b);')).toBe(false);
  });
});
