import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { root } from './install.mjs';

const { version, optionalDependencies } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));

/** Switches burnt into the runtime's binary: it runs this program, unchanged, and nothing else. */
const fuses = {
  runAsNode: false,
  enableCookieEncryption: true,
  enableNodeOptionsEnvironmentVariable: false,
  enableNodeCliInspectArguments: false,
  enableEmbeddedAsarIntegrityValidation: true,
  onlyLoadAppFromAsar: true,
  loadBrowserProcessSpecificV8Snapshot: false,
  grantFileProtocolExtraPrivileges: false,
};

/** What the installers hold and how they behave, for the packager. */
export default {
  appId: 'rillsheet.desktop',
  productName: 'Rillsheet',
  // biome-ignore lint/suspicious/noTemplateCurlyInString: the packager's own placeholders
  artifactName: 'Rillsheet-${version}-${os}-${arch}.${ext}',
  electronVersion: optionalDependencies.electron,
  directories: { output: 'dist/installers', buildResources: 'dist/packaging' },
  // Everything is bundled: no packages go along.
  files: ['dist/app/**', 'dist/electron/**', 'package.json', 'LICENSE', '!node_modules'],
  extraMetadata: { main: 'dist/electron/main.js', version },
  asar: true,
  npmRebuild: false,
  nodeGypRebuild: false,
  electronFuses: fuses,
  // No place to look for updates is built in: a newer version comes when a person fetches and installs it.
  publish: null,
  linux: {
    target: ['AppImage', 'tar.gz'],
    category: 'Graphics',
    synopsis: 'To-scale plans for on-surface drip',
    mimeTypes: ['application/geo+json', 'application/json'],
  },
  win: { target: ['nsis'] },
  nsis: { oneClick: false, perMachine: false, allowToChangeInstallationDirectory: true },
  mac: {
    target: ['dmg'],
    category: 'public.app-category.graphics-design',
    hardenedRuntime: true,
    fileAssociations: [
      { ext: 'json', name: 'Rillsheet plan', role: 'Editor', rank: 'Alternate' },
      { ext: 'geojson', name: 'GeoJSON', role: 'Viewer', rank: 'Alternate' },
    ],
  },
};
