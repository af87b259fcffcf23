import { type InpNetwork, readInp } from '../core/exchange';
import {
  type PreparedNetwork,
  prepareNetwork,
  type Solution,
  solvePrepared,
  withFigures,
} from '../core/hydraulics';
import type { Problem } from '../core/units';

/** How the solve command was called. */
export interface SolveOptions {
  /** Name of the file, for places in problems. */
  readonly fileName: string;
  readonly json: boolean;
  /** Absent: EPANET's constants, because the file was written for them. */
  readonly profile?: 'epanet' | 'own';
  /** Says a problem in words. */
  readonly say: (problem: Problem) => string;
}

/** What a command prints, and the code it ends with. */
export interface CommandResult {
  readonly exitCode: number;
  readonly stdout: string;
  readonly stderr: string;
}

/** The solution of a network file as data, SI units. */
interface SolutionJson {
  readonly nodes: Readonly<Record<string, { headM: number; pressureM: number; outflowM3s: number }>>;
  readonly links: Readonly<Record<string, { flowM3s: number; velocityMs: number; headlossM: number }>>;
  readonly converged: boolean;
  readonly iterations: number;
  readonly worstResidualM3s: number;
}

/**
 * Solves one EPANET network file and prints every node and link, as a table or as JSON.
 * Exit codes: 0 solved; 1 the file cannot be read or solved, every problem listed on standard error; 3 not settled.
 */
export function runSolve(text: string, options: SolveOptions): CommandResult {
  const outcome = readInp(text, {
    fileName: options.fileName,
    ...(options.profile === undefined ? {} : { profile: options.profile }),
  });
  const said = outcome.problems.map((problem) => `${options.say(problem)}\n`).join('');
  if (!outcome.ok) return { exitCode: 1, stdout: '', stderr: said };
  const inp = outcome.value;
  const solution = solveInp(inp);
  if (solution.status === 'refused') {
    const refused = solution.issues.map(({ code, id }) =>
      options.say({ code, severity: 'stop', where: { file: options.fileName, id }, params: { id } }),
    );
    return { exitCode: 1, stdout: '', stderr: said + refused.map((line) => `${line}\n`).join('') };
  }
  const notes = [...solution.issues];
  if (solution.status === 'unsettled')
    notes.push({ code: 'hydraulics.unsettled', id: solution.worstNodeId ?? '' });
  const noted = notes.map(
    ({ code, id }) =>
      `${options.say({ code, severity: 'warn', where: { file: options.fileName, id }, params: { id } })}\n`,
  );
  return {
    exitCode: solution.status === 'settled' ? 0 : 3,
    stdout: options.json ? `${JSON.stringify(asJson(inp, solution), null, 1)}\n` : asTable(inp, solution),
    stderr: said + noted.join(''),
  };
}

/** Solves a network file already read, with the constants it was read for. */
export function solveInp(inp: InpNetwork): Solution {
  const prepared: PreparedNetwork = prepareNetwork(inp.network, inp.constants);
  return solvePrepared(inp.outlets.length === 0 ? prepared : withFigures(prepared, inp.network, inp.outlets));
}

function asJson({ network }: InpNetwork, solution: Solution): SolutionJson {
  const nodes = Object.fromEntries(
    network.nodes.map((node, i) => {
      const headM = solution.headM[i]!;
      return [node.id, { headM, pressureM: headM - node.elevationM, outflowM3s: solution.outflowM3s[i]! }];
    }),
  );
  const links = Object.fromEntries(
    network.links.map((link, i) => [
      link.id,
      {
        flowM3s: solution.flowM3s[i]!,
        velocityMs: solution.velocityMs[i]!,
        headlossM: solution.headlossM[i]!,
      },
    ]),
  );
  return {
    nodes,
    links,
    converged: solution.status === 'settled',
    iterations: solution.iterations,
    worstResidualM3s: solution.worstResidualM3s,
  };
}

function asTable(inp: InpNetwork, solution: Solution): string {
  const { nodes, links } = asJson(inp, solution);
  const cell = (value: number) =>
    (value !== 0 && Math.abs(value) < 1e-2 ? value.toExponential(5) : value.toFixed(5)).padStart(14);
  const rows = [
    `${solution.status} after ${solution.iterations} steps, worst balance ${solution.worstResidualM3s.toExponential(1)} m3/s`,
    '',
    `${'node'.padEnd(24)}${'head m'.padStart(14)}${'pressure m'.padStart(14)}${'outflow m3/s'.padStart(14)}`,
    ...Object.entries(nodes).map(
      ([id, node]) => id.padEnd(24) + cell(node.headM) + cell(node.pressureM) + cell(node.outflowM3s),
    ),
    '',
    `${'link'.padEnd(24)}${'flow m3/s'.padStart(14)}${'velocity m/s'.padStart(14)}${'head loss m'.padStart(14)}`,
    ...Object.entries(links).map(
      ([id, link]) => id.padEnd(24) + cell(link.flowM3s) + cell(link.velocityMs) + cell(link.headlossM),
    ),
  ];
  return `${rows.join('\n')}\n`;
}
