import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { parseArgs } from 'node:util';
import { ensurePackages, root } from './install.mjs';

ensurePackages();
const USAGE = `npm run pictures -- [--out DIR] [--only NAME] [--seeds 1,2,3]
Draws every bed of tests/reference/beds and tests/bench/shapedBeds.ts with its finished route, as SVG and PNG.
--out    folder for the pictures (dist/pictures)
--only   beds whose name holds this
--seeds  random beds to draw as well
--plots  the plots of the demonstration instead, in every look and in grey print`;
let options;
try {
  options = parseArgs({
    options: {
      out: { type: 'string', default: join(root, 'dist/pictures') },
      only: { type: 'string', default: '' },
      seeds: { type: 'string', default: '' },
      plots: { type: 'boolean', default: false },
    },
  }).values;
} catch (problem) {
  console.error(`${problem.message}\n${USAGE}`);
  process.exit(2);
}
const { bundleForNode } = await import('./bundle.mjs');
const outDir = 'dist/pictures-program';
await bundleForNode({
  programs: {
    drawBeds: 'tests/bench/pictures/drawBeds.ts',
    drawPlots: 'tests/bench/pictures/drawPlots.ts',
  },
  outDir,
  external: ['@resvg/resvg-js'],
});
const program = (name) => import(pathToFileURL(join(root, outDir, `${name}.js`)).href);
const outFolder = resolve(process.env.INIT_CWD ?? process.cwd(), options.out);
if (options.plots) {
  const { drawPlotsOf } = await program('drawPlots');
  const plan = join(root, 'assets/demonstration.rillsheet.json');
  for (const picture of drawPlotsOf(plan, join(root, 'assets/fonts'), outFolder)) console.log(picture);
  process.exit(0);
}
const { drawBeds } = await program('drawBeds');
const pictures = drawBeds({
  bedFolder: join(root, 'tests/reference/beds'),
  outFolder,
  only: options.only,
  seeds: options.seeds === '' ? [] : options.seeds.split(',').map(Number),
});
for (const picture of pictures) console.log(picture);
