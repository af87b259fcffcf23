import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { complaint, readArrows } from './arrows';

const root = fileURLToPath(new URL('../..', import.meta.url));

describe('the house', () => {
  it('every import arrow points the way the house allows, through doors', () => {
    const arrows = readArrows(root);
    expect(arrows.length).toBeGreaterThan(50);
    expect(arrows.map(complaint).filter((text) => text !== null)).toEqual([]);
  });

  it('a deliberate violation of each rule is caught', () => {
    const forbidden = [
      { from: 'src/core/units/print.ts', to: 'src/core/plan' },
      { from: 'src/core/layout/loop.ts', to: 'src/core/geometry/offset' },
      { from: 'src/core/supply/zones.ts', to: 'src/core/design' },
      { from: 'src/core/layout/area.ts', to: 'clipper2-ts' },
      { from: 'src/core/plan/planText.ts', to: 'node:fs' },
      { from: 'src/core/words/index.ts', to: 'react' },
      { from: 'src/core/drawing/plan.ts', to: 'src/render' },
      { from: 'src/app/canvas.tsx', to: 'src/host/node' },
      { from: 'electron/main.ts', to: 'src/core/plan' },
    ];
    for (const arrow of forbidden) expect(complaint(arrow), `${arrow.from} -> ${arrow.to}`).not.toBeNull();
    expect(complaint({ from: 'src/core/layout/loop.ts', to: 'src/core/geometry' })).toBeNull();
  });

  it('core compiles without the DOM and without Node, and a use of either is an error', () => {
    const folder = mkdtempSync(join(tmpdir(), 'rillsheet-core-'));
    try {
      const config = join(folder, 'tsconfig.json');
      const core = JSON.parse(readFileSync(join(root, 'build/tsconfig.core.json'), 'utf8')) as {
        compilerOptions: object;
      };
      writeFileSync(
        join(folder, 'bad.ts'),
        'export const a = document.title;\nexport const b = process.cwd();\n',
      );
      writeFileSync(
        config,
        JSON.stringify({
          extends: join(root, 'tsconfig.json'),
          compilerOptions: { ...core.compilerOptions, typeRoots: [join(root, 'node_modules/@types')] },
          include: ['bad.ts'],
        }),
      );
      const tsc = join(root, 'node_modules/typescript/bin/tsc');
      const run = (project: string): string => {
        try {
          return execFileSync(process.execPath, [tsc, '--noEmit', '-p', project], { encoding: 'utf8' });
        } catch (error) {
          return (error as { stdout: string }).stdout;
        }
      };
      expect(run(join(root, 'build/tsconfig.core.json'))).toBe('');
      const complaints = run(config);
      expect(complaints).toContain('document');
      expect(complaints).toContain('process');
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  }, 240_000);

  it('no word of core asks for the clock, chance, the locale or the console', () => {
    const files = new Set(
      readArrows(root)
        .map((arrow) => arrow.from)
        .filter((path) => path.startsWith('src/core/')),
    );
    const forbidden =
      /\bDate\.now\b|\bnew Date\(\)|\bMath\.random\b|\btoLocale\w*\(|\blocaleCompare\b|\bIntl\.|\bconsole\.|\bperformance\.now\b/;
    const found = [...files].filter((file) =>
      forbidden.test(
        readFileSync(join(root, file), 'utf8')
          .replace(/\/\*[\s\S]*?\*\//g, '')
          .replace(/\/\/.*$/gm, ''),
      ),
    );
    expect(found).toEqual([]);
  });

  it('the lock file records no address of a registry', () => {
    const lock = readFileSync(join(root, 'package-lock.json'), 'utf8');
    expect(lock.match(/"resolved"\s*:/g)).toBeNull();
    expect(lock.match(/https?:\/\/[^"]*registry[^"]*/g)).toBeNull();
  });
});
