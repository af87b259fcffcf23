import { type Design, designPlan } from '../core/design';
import type { PaperKey } from '../core/drawing';
import { designJson } from '../core/exchange';
import type { Plan } from '../core/plan';
import { printer, type UnitSystem } from '../core/units';
import type { FontBytes } from '../render';
import { outputsAgainst, wayName } from './against';
import { type FolderRefusal, refusalOf, writeOutputs } from './outFolder';
import { chooseOutputs, OUTPUTS, type OutputFile } from './outputs';
import { type ReadChoices, readInput, readPlanText } from './readInput';
import { readCatalog } from './readParts';
import { problemLines, summaryText } from './summary';

export interface DesignCommandOptions {
  readonly file: string;
  /** The plan itself, where it is not in a file of its own; `file` then only names it. */
  readonly text?: string;
  readonly out: string;
  /** The user's own parts, JSON or CSV; absent: typical parts alone. */
  readonly parts?: string | null;
  /** Unit and layers of a drawing or a table of points. */
  readonly read?: ReadChoices;
  /** Another plan of the same site, designed too and weighed against this one. */
  readonly against?: string | null;
  readonly units: UnitSystem | null;
  readonly paper: PaperKey | null;
  readonly scaleDenominator: number | null;
  readonly only: readonly string[] | null;
  readonly json: boolean;
  readonly strict: boolean;
  readonly force: boolean;
}

/** Where the command speaks to: standard output and standard error, and the fonts it may use. */
export interface Surroundings {
  readonly out: (text: string) => void;
  readonly progress: (text: string) => void;
  readonly readFonts: () => Promise<FontBytes>;
  /** Called with the finished design once its outputs are written. */
  readonly designed?: (design: Design) => void;
}

/** Exit codes of the contract. */
export const EXIT = { designed: 0, unreadable: 1, usage: 2, blocked: 3 } as const;

function refusalText(folder: string, refusal: FolderRefusal): string {
  switch (refusal.kind) {
    case 'strangers':
      return `"${folder}" holds files that are not of this program (${refusal.names.slice(0, 5).join(', ')}${refusal.names.length > 5 ? ', ...' : ''}). Nothing was written. Choose another folder with --out.`;
    case 'ours':
      return `"${folder}" holds outputs of an earlier run (${refusal.names.slice(0, 5).join(', ')}${refusal.names.length > 5 ? ', ...' : ''}). Nothing was written. Add --force to replace them, or choose another folder.`;
    case 'not-a-folder':
      return `"${folder}" is not a folder. Nothing was written. Choose another name with --out.`;
    case 'cannot-write':
      return `The outputs could not be written to "${folder}": ${refusal.detail}. Nothing was changed there. Choose a folder you may write to.`;
  }
}

/** 0, 1 or 3 by what the design says; warnings count as blocking under `--strict`. */
export function exitCodeOf(design: Design, strict: boolean): number {
  const routed = design.beds.filter((bed) => bed.layout.status === 'routed');
  if (routed.length === 0) return EXIT.unreadable;
  const blocks = design.findings.some(
    (finding) => finding.severity === 'stop' || (strict && finding.severity === 'warn'),
  );
  return blocks || routed.length < design.beds.length ? EXIT.blocked : EXIT.designed;
}

const withUnits = (plan: Plan, units: UnitSystem | null): Plan =>
  units === null ? plan : { ...plan, display: { ...plan.display, units } };

/** The whole job without a window: reads, designs, writes all outputs or none, and says what was found. */
export async function runDesign(options: DesignCommandOptions, around: Surroundings): Promise<number> {
  const { kinds, unknown } = chooseOutputs(options.only);
  if (unknown.length > 0) {
    around.progress(
      `--only does not know ${unknown.join(', ')}. It takes: ${OUTPUTS.map((kind) => kind.name).join(', ')}.\n`,
    );
    return EXIT.usage;
  }
  const refusal = await refusalOf(options.out, options.force);
  if (refusal !== null) {
    around.progress(`${refusalText(options.out, refusal)}\n`);
    return EXIT.usage;
  }
  const read =
    options.text === undefined
      ? await readInput(options.file, options.read)
      : readPlanText(options.text, options.file, options.read);
  const print = printer(options.units ?? 'us');
  if (!read.ok) {
    around.progress(
      `"${options.file}" cannot be used. Nothing was written.\n${read.problems.map((problem) => `${problemLines(problem, print)}\n`).join('')}`,
    );
    return EXIT.unreadable;
  }
  const catalog = await readCatalog(options.parts ?? null);
  if (!catalog.ok) {
    around.progress(
      `The parts file "${options.parts}" cannot be used. Nothing was written.\n${catalog.problems.map((problem) => `${problemLines(problem, print)}\n`).join('')}`,
    );
    return EXIT.unreadable;
  }
  const plan = withUnits(read.value, options.units);
  let lastStage = '';
  const made = designPlan(plan, catalog.value, {
    quality: 'finished',
    onProgress: (stage, doneRatio) => {
      if (stage !== lastStage) around.progress(`${stage} (${Math.round(doneRatio * 100)} %)\n`);
      lastStage = stage;
    },
  });
  const design: Design = { ...made, findings: [...read.problems, ...made.findings] };
  const code = exitCodeOf(design, options.strict);
  if (code === EXIT.unreadable) {
    around.progress(
      `No bed of "${options.file}" can be used. Nothing was written.\n${design.findings.map((problem) => `${problemLines(problem, print)}\n`).join('')}`,
    );
    return code;
  }
  const fonts = await around.readFonts();
  const files: OutputFile[] = [];
  for (const kind of kinds) {
    around.progress(`${kind.name}\n`);
    files.push(
      ...kind.make(design, { fonts, paper: options.paper, scaleDenominator: options.scaleDenominator }),
    );
  }
  if (options.against) {
    around.progress(`against ${options.against}\n`);
    const compared = await outputsAgainst(options.against, design, {
      ...options,
      catalog: catalog.value,
      fonts,
      names: { first: wayName(options.file), second: wayName(options.against) },
    });
    if (!compared.ok) {
      around.progress(
        `"${options.against}" cannot be used. Nothing was written.\n${compared.problems.map((problem) => `${problemLines(problem, print)}\n`).join('')}`,
      );
      return EXIT.unreadable;
    }
    files.push(...compared.value);
  }
  const failed = await writeOutputs(options.out, files);
  if (failed !== null) {
    around.progress(`${refusalText(options.out, failed)}\n`);
    return EXIT.usage;
  }
  around.designed?.(design);
  around.out(
    options.json
      ? `${JSON.stringify({ exitCode: code, files: files.map((file) => file.name), design: designJson(design) })}\n`
      : summaryText(design),
  );
  return code;
}
