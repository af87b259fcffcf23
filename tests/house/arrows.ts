import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, normalize, relative, sep } from 'node:path';

/** The rooms of core in the order of duty: a room imports only rooms before it. */
export const CORE_ORDER = [
  'units',
  'geometry',
  'catalog',
  'plan',
  'soilwater',
  'hydraulics',
  'layout',
  'supply',
  'review',
  'takeoff',
  'design',
  'words',
  'drawing',
  'exchange',
];

/** What each place outside core may import, by room. */
const OUTSIDE: Readonly<Record<string, readonly string[]>> = {
  render: ['core/drawing', 'core/geometry', 'core/units'],
  worker: ['core/*', 'render'],
  'host/contract': [],
  'host/node': ['host/contract'],
  'host/web': ['host/contract'],
  app: ['core/*', 'render', 'worker', 'host/contract', 'host/web'],
  cli: ['core/*', 'render', 'host/node', 'host/contract'],
  electron: ['host/contract', 'host/node'],
};

/** Packages that one room alone may import, and packages core may import at all. */
const GEOMETRY_PACKAGES = /^(@turf\/|clipper2-ts|flatbush|polyclip-ts|jsts)/;
const CORE_PACKAGES =
  /^(zod|immer|@turf\/|clipper2-ts|flatbush|proj4|@tarikjabiri\/dxf|dxf-parser|papaparse|yalps|d3-scale|d3-shape)/;

export interface Arrow {
  readonly from: string;
  readonly to: string;
}

/** All TypeScript files below a folder. */
function sourceFiles(folder: string): string[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder).flatMap((name) => {
    const path = join(folder, name);
    if (statSync(path).isDirectory())
      return name === 'node_modules' || name === 'dist' ? [] : sourceFiles(path);
    return /\.tsx?$/.test(name) ? [path] : [];
  });
}

/** Every import of every file under src and electron, as paths relative to the root or package names. */
export function readArrows(root: string): Arrow[] {
  const files = [...sourceFiles(join(root, 'src')), ...sourceFiles(join(root, 'electron'))];
  return files.flatMap((file) => {
    const text = readFileSync(file, 'utf8')
      .replace(/\/\*[\s\S]*?\*\//g, '')
      .replace(/^\s*\/\/.*$/gm, '');
    const from = relative(root, file).split(sep).join('/');
    const names = [
      ...text.matchAll(/(?:\bfrom\s*|\bimport\s*\(?\s*|\brequire\s*\(\s*)['"]([^'"\s]+)['"]/g),
    ].map((match) => match[1] ?? '');
    return names.map((name) => ({
      from,
      to: name.startsWith('.')
        ? normalize(join(dirname(from), name))
            .split(sep)
            .join('/')
        : name,
    }));
  });
}

/** The room a path lies in: "core/layout", "app", "host/node", "electron". */
export function roomOf(path: string): string {
  const parts = path.split('/');
  if (parts[0] === 'electron') return 'electron';
  if (parts[0] !== 'src') return '';
  return parts[1] === 'core' || parts[1] === 'host' ? `${parts[1]}/${parts[2]}` : (parts[1] ?? '');
}

const isDoor = (path: string): boolean =>
  /^src\/(core\/[a-z]+|host\/[a-z]+|[a-z]+)(\/index(\.tsx?)?)?$/.test(path);

/** Why an arrow is forbidden, or null. */
export function complaint({ from, to }: Arrow): string | null {
  const room = roomOf(from);
  if (!to.startsWith('src/') && !to.startsWith('electron/')) {
    const path = to.split('?')[0] ?? to;
    if (path.startsWith('assets/') || path.startsWith('../'))
      return room.startsWith('core/') ? `${from} imports ${to}: core reads no files` : null;
    if (path.startsWith('package.json')) return null;
    if (GEOMETRY_PACKAGES.test(path) && room !== 'core/geometry')
      return `${from} imports ${to}: only core/geometry may import a geometry package`;
    if (room.startsWith('core/') && !CORE_PACKAGES.test(path))
      return `${from} imports ${to}: not a package core may use`;
    return null;
  }
  const target = roomOf(to);
  if (target === room) return null;
  if (!isDoor(to)) return `${from} imports ${to}: go through the door of ${target}`;
  if (room.startsWith('core/')) {
    if (!target.startsWith('core/')) return `${from} imports ${to}: core imports nothing outside core`;
    const [mine, theirs] = [room, target].map((name) => CORE_ORDER.indexOf(name.slice(5)));
    if (mine === undefined || theirs === undefined || mine < 0 || theirs < 0)
      return `${from} imports ${to}: unknown room`;
    return theirs < mine ? null : `${from} imports ${to}: ${target} stands below ${room}`;
  }
  const allowed = OUTSIDE[room];
  if (allowed === undefined) return `${from}: unknown room ${room}`;
  return allowed.includes(target) || (allowed.includes('core/*') && target.startsWith('core/'))
    ? null
    : `${from} imports ${to}: ${room} may not import ${target}`;
}
