import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { ensureBuilt } from '../../build/build.mjs';
import packaging from '../../build/packaging.mjs';

const root = fileURLToPath(new URL('../..', import.meta.url));
beforeAll(ensureBuilt);

describe('the installers', () => {
  it("19 (of the security checklist) the runtime's fuses let it run this program, unchanged, and nothing else", () => {
    // Source: the runtime's documentation, "Electron Fuses"; the settings it recommends to programs that do not need the features
    expect(packaging.electronFuses).toEqual({
      runAsNode: false,
      enableCookieEncryption: true,
      enableNodeOptionsEnvironmentVariable: false,
      enableNodeCliInspectArguments: false,
      enableEmbeddedAsarIntegrityValidation: true,
      onlyLoadAppFromAsar: true,
      loadBrowserProcessSpecificV8Snapshot: false,
      grantFileProtocolExtraPrivileges: false,
    });
    expect(packaging.asar).toBe(true);
  });

  it('carry the runtime that the program was tried with', () => {
    const { optionalDependencies } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
    expect(packaging.electronVersion).toBe(optionalDependencies.electron);
  });

  it('are made for Linux, Windows and a Mac, and a person chooses the place', () => {
    expect(packaging.linux.target).toContain('AppImage');
    expect(packaging.win.target).toEqual(['nsis']);
    expect(packaging.nsis).toMatchObject({ oneClick: false, perMachine: false });
    expect(packaging.mac).toMatchObject({ target: ['dmg'], hardenedRuntime: true });
  });

  it('look for updates nowhere: a newer version comes only when a person installs it', () => {
    expect(packaging.publish).toBeNull();
    expect(readFileSync(join(root, 'dist/electron/main.js'), 'utf8')).not.toMatch(
      /autoUpdater|electron-updater/,
    );
  });

  it('need no packages beside the built files', () => {
    expect(packaging.files).toContain('!node_modules');
    for (const file of [packaging.extraMetadata.main, 'dist/electron/preload.cjs']) {
      const text = readFileSync(join(root, file), 'utf8');
      const asked = [...text.matchAll(/^import .* from "([^"]+)"|require\("([^"]+)"\)/gm)].map(
        (match) => match[1] ?? match[2] ?? '',
      );
      expect(asked).toContain('electron');
      expect(asked.filter((name) => name !== 'electron' && !name.startsWith('node:'))).toEqual([]);
    }
  });

  it('are not made, and it is said why, where the runtime cannot be had', () => {
    const result = spawnSync(process.execPath, [join(root, 'build/package.mjs')], {
      encoding: 'utf8',
      env: { ...process.env, RILLSHEET_RUNTIME: join(root, 'absent') },
    });
    expect(result.status).toBe(1);
    expect(result.stderr).toMatch(/No installers were made: the desktop runtime is not here/);
  });
});
