import { readFileSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { isMainThread, parentPort, workerData } from 'node:worker_threads';
import { Command, InvalidArgumentError, Option } from 'commander';
import { PAPERS, type PaperKey } from '../core/drawing';
import { DRAWING_UNITS, type DrawingUnit, LAYER_KINDS, type LayerKind } from '../core/exchange';
import { printer, type UnitSystem } from '../core/units';
import { FONT_FILES, type FontBytes } from '../render';
import { isBatchSource } from './batch';
import { answerTasks, runBatchCommand, type SharedOptions } from './batchCommand';
import { type DesignCommandOptions, EXIT, runDesign } from './designCommand';
import { runSolve } from './solve';
import { problemLines } from './summary';

const assets = join(import.meta.dirname, '..', '..', 'assets');

async function readFonts(): Promise<FontBytes> {
  const entries = Object.entries(FONT_FILES).map(
    async ([font, file]) => [font, new Uint8Array(await readFile(join(assets, 'fonts', file)))] as const,
  );
  return Object.fromEntries(await Promise.all(entries));
}

/** "auto", "1:48" or "48". */
function scaleOf(text: string): number | null {
  if (text === 'auto') return null;
  const denominator = Number(/^(?:1:)?(\d+(?:\.\d+)?)$/.exec(text)?.[1]);
  if (!(denominator > 0))
    throw new InvalidArgumentError('A scale is written 1:48, or auto for the largest that fits.');
  return denominator;
}

function jobsOf(text: string): number {
  const jobs = Number(text);
  if (!Number.isInteger(jobs) || jobs < 1 || jobs > 256)
    throw new InvalidArgumentError('Give a whole number from 1 to 256.');
  return jobs;
}

/** One more "LAYER=KIND"; the last equals sign counts, for a layer's name may hold others. */
function withLayer(text: string, before: Readonly<Record<string, LayerKind>>): Record<string, LayerKind> {
  const at = text.lastIndexOf('=');
  const kind = LAYER_KINDS.find((one) => one === text.slice(at + 1).trim());
  if (at < 1 || kind === undefined)
    throw new InvalidArgumentError(`Write LAYER=KIND; kinds are ${LAYER_KINDS.join(', ')}.`);
  return Object.fromEntries([...Object.entries(before), [text.slice(0, at), kind]]);
}

const program = new Command('rillsheet')
  .description(
    'Lays out on-surface drip irrigation: routes the tubing, solves every emitter, prints the install sheet.',
  )
  .exitOverride()
  .configureOutput({ writeErr: (text) => process.stderr.write(text) });

program
  .command('design')
  .description('the whole job without a window')
  .argument(
    '<file>',
    'a plan, a GeoJSON file, a DXF drawing or a CSV table of points; for many: a folder of them, a file with one a line, or - for standard input',
  )
  .requiredOption('--out <folder>', 'where the outputs go')
  .addOption(new Option('--units <system>', 'units that are printed').choices(['us', 'metric']))
  .addOption(new Option('--paper <paper>', 'paper of the install sheet').choices(Object.keys(PAPERS)))
  .option('--scale <scale>', 'scale of the plan view: auto, 1:48 ...', scaleOf, null)
  .option('--only <list>', 'names of the outputs wanted, separated by commas')
  .addOption(
    new Option(
      '--drawing-unit <unit>',
      'unit of a DXF drawing or a CSV table; else what the file says, else a guess that is shown',
    ).choices(Object.keys(DRAWING_UNITS)),
  )
  .option(
    '--layer <layer=kind>',
    `what a layer of a DXF drawing holds (${LAYER_KINDS.join(', ')}); once for each layer`,
    withLayer,
    {},
  )
  .option('--parts <file>', "the user's own parts, JSON or CSV, in place of typical ones")
  .option(
    '--against <file>',
    'another plan of the same site: both are weighed in ways.csv, ways.json, ways.pdf',
  )
  .option('--json', 'the summary as JSON', false)
  .option('--strict', 'warnings count as blocking', false)
  .option('--jobs <count>', 'how many plans of a folder or stream are designed at a time', jobsOf, null)
  .option('--force', 'replace what the folder already holds of ours', false)
  .action(
    async (
      file: string,
      given: {
        out: string;
        units?: UnitSystem;
        paper?: PaperKey;
        scale: number | null;
        jobs: number | null;
        only?: string;
        drawingUnit?: DrawingUnit;
        layer: Readonly<Record<string, LayerKind>>;
        parts?: string;
        against?: string;
        json: boolean;
        strict: boolean;
        force: boolean;
      },
    ) => {
      const options: DesignCommandOptions = {
        file,
        out: given.out,
        parts: given.parts ?? null,
        against: given.against ?? null,
        read: { ...(given.drawingUnit ? { unit: given.drawingUnit } : {}), layers: given.layer },
        units: given.units ?? null,
        paper: given.paper ?? null,
        scaleDenominator: given.scale,
        only:
          given.only
            ?.split(',')
            .map((name) => name.trim())
            .filter((name) => name !== '') ?? null,
        json: given.json,
        strict: given.strict,
        force: given.force,
      };
      const say = {
        out: (text: string) => process.stdout.write(text),
        progress: (text: string) => process.stderr.write(text),
      };
      if (await isBatchSource(file)) {
        const { file: source, out, ...shared } = options;
        const batch = { source, out, jobs: given.jobs, shared };
        process.exitCode = await runBatchCommand(batch, new URL(import.meta.url), say);
      } else {
        process.exitCode = await runDesign(options, { ...say, readFonts });
      }
    },
  );

program
  .command('solve')
  .description('solves an EPANET input file with our own solver')
  .argument('<file>', 'an EPANET input file')
  .option('--json', 'every node and link as JSON', false)
  .addOption(
    new Option('--constants <profile>', "EPANET's rounded constants, or our own exact ones")
      .choices(['epanet', 'own'])
      .default('epanet'),
  )
  .action((file: string, given: { json: boolean; constants: 'epanet' | 'own' }) => {
    let text: string;
    try {
      text = readFileSync(file, 'utf8');
    } catch (error) {
      process.stderr.write(
        `"${file}" cannot be read: ${error instanceof Error ? error.message : String(error)}. Check the name and the folder.\n`,
      );
      process.exitCode = EXIT.unreadable;
      return;
    }
    const result = runSolve(text, {
      fileName: basename(file),
      json: given.json,
      profile: given.constants,
      say: (problem) => problemLines(problem, printer('us')),
    });
    process.stdout.write(result.stdout);
    process.stderr.write(result.stderr);
    process.exitCode = result.exitCode;
  });

// A reader that stops early (head, a pager) is no fault of ours.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
});

if (!isMainThread && parentPort) {
  answerTasks(parentPort, workerData as SharedOptions, readFonts);
} else {
  await runProgram();
}

async function runProgram(): Promise<void> {
  try {
    await program.parseAsync();
  } catch (error) {
    const code = (error as { exitCode?: unknown; code?: unknown }).code;
    if (typeof code !== 'string' || !code.startsWith('commander.')) throw error;
    process.exitCode = (error as { exitCode: number }).exitCode === 0 ? 0 : EXIT.usage;
  }
}
