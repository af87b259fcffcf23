import { AnalysisStatistic, Project, Workspace } from 'epanet-js';
import { readInp } from '../../src/core/exchange';
import { prepareNetwork, type Solution, solvePrepared, withFigures } from '../../src/core/hydraulics';
import { grid5000, gridInp, gridOf } from '../reference/hydraulics/grids';

interface BenchResult {
  readonly title: string;
  readonly rows: readonly Readonly<Record<string, string | number>>[];
}

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[values.length >> 1] ?? Number.NaN;

/** EPANET's hydraulic solve of a file, ms: its solver opened, started and run; reading the file is not counted. */
function engineSolveMs(workspace: Workspace, text: string): { ms: number; iterations: number } {
  const project = new Project(workspace);
  workspace.writeFile('bench.inp', text);
  project.open('bench.inp', 'bench.rpt', 'bench.out');
  const start = performance.now();
  project.openH();
  project.initH(0);
  project.runH();
  const ms = performance.now() - start;
  const iterations = project.getStatistic(AnalysisStatistic.Iterations);
  project.closeH();
  project.close();
  return { ms, iterations };
}

function readGrid(text: string) {
  const outcome = readInp(text, { fileName: 'bench.inp' });
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome.value;
}

/** Our two shares of the same work, ms: checking, ordering and compiling; and the search. */
function ownSolveMs(grid: ReturnType<typeof readGrid>): {
  prepareMs: number;
  solveMs: number;
  solution: Solution;
} {
  const start = performance.now();
  const prepared = prepareNetwork(grid.network, grid.constants);
  const middle = performance.now();
  const solution = solvePrepared(prepared);
  return { prepareMs: middle - start, solveMs: performance.now() - middle, solution };
}

/** Grids of 5,000 emitters solved by EPANET's compiled engine and by us in turn, in one run; medians as ratios. */
export async function benchHydraulics(options: { readonly full?: boolean } = {}): Promise<BenchResult> {
  const workspace = new Workspace();
  await workspace.loadModule();
  const rows: Record<string, string | number>[] = [];
  for (const headloss of ['H-W', 'D-W'] as const)
    for (const id of ['P11', 'P12', 'P13'] as const) {
      const text = gridInp(grid5000(id, headloss));
      const grid = readGrid(text);
      const isCompensating = id === 'P13';
      const rounds = options.full ? 21 : isCompensating ? 5 : 11;
      for (let i = 0; i < 12; i++) ownSolveMs(grid);
      const engine: number[] = [];
      const prepare: number[] = [];
      const solve: number[] = [];
      let iterations = 0;
      let engineIterations = 0;
      for (let round = 0; round < rounds; round++) {
        const theirs = engineSolveMs(workspace, text);
        const ours = ownSolveMs(grid);
        if (ours.solution.status !== 'settled') throw new Error(`${id} ${headloss} did not settle`);
        engine.push(theirs.ms);
        prepare.push(ours.prepareMs);
        solve.push(ours.solveMs);
        iterations = ours.solution.iterations;
        engineIterations = theirs.iterations;
      }
      rows.push({
        grid: `${id} ${headloss}${isCompensating ? ' x=0.05' : ''}`,
        emitters: 5000,
        engineMs: median(engine),
        engineIterations,
        ownSolveMs: median(solve),
        iterations,
        ratio: median(solve) / median(engine),
        ratioWithOrdering: (median(solve) + median(prepare)) / median(engine),
        wanted: isCompensating ? '<= 0.05' : '<= 0.5, aim 0.25',
      });
    }
  return { title: 'Grids against EPANET, solve time (file reading not counted)', rows };
}

/** How time grows with the number of emitters: t ~ n^exponent between the smallest and the largest grid. */
export function benchHydraulicsGrowth(options: { readonly full?: boolean } = {}): BenchResult {
  const sizes = [
    [5, 100],
    [25, 200],
    [50, 500],
    [125, 400],
  ] as const;
  const rounds = options.full ? 15 : 7;
  const rows = sizes.map(([laterals, emitters]) => {
    const grid = readGrid(gridInp(gridOf(laterals, emitters, 'D-W')));
    const count = laterals * emitters;
    for (let i = 0; i < Math.max(3, 20_000 / count); i++) ownSolveMs(grid);
    const times = Array.from({ length: Math.max(rounds, Math.min(200, 100_000 / count)) }, () =>
      ownSolveMs(grid),
    );
    return {
      emitters: count,
      solveMs: median(times.map((time) => time.solveMs)),
      totalMs: median(times.map((time) => time.solveMs + time.prepareMs)),
      iterations: times[0]!.solution.iterations,
      exponent: 0,
      exponentTotal: 0,
      wanted: '',
    };
  });
  const [first] = rows;
  for (const row of rows.slice(1)) {
    const decades = Math.log(row.emitters / first!.emitters);
    row.exponent = Math.log(row.solveMs / first!.solveMs) / decades;
    row.exponentTotal = Math.log(row.totalMs / first!.totalMs) / decades;
  }
  rows[rows.length - 1]!.wanted = 'exponent <= 1.15';
  return { title: 'Growth with the number of emitters (ladder grids, Darcy-Weisbach)', rows };
}

/** A bed of 100 emitters solved again after a change of its source, starting from its last solution. */
export function benchHydraulicsAgain(): BenchResult {
  const grid = readGrid(gridInp(gridOf(4, 25, 'D-W')));
  const prepared = prepareNetwork(grid.network, grid.constants);
  let last = solvePrepared(prepared);
  const times: number[] = [];
  for (let i = 0; i < 600; i++) {
    const nodes = grid.network.nodes.map((node) =>
      node.fixedHeadM === undefined
        ? node
        : { ...node, fixedHeadM: node.fixedHeadM * (1 + 0.02 * Math.sin(i)) },
    );
    const start = performance.now();
    last = solvePrepared(withFigures(prepared, { ...grid.network, nodes }), last);
    times.push(performance.now() - start);
  }
  return {
    title: 'A bed of 100 emitters solved again, warm',
    rows: [
      {
        emitters: 100,
        medianMs: median(times.slice(100)),
        slowestOfHundred: [...times.slice(100)].sort((a, b) => b - a)[5]!,
        iterations: last.iterations,
        wanted: '< 1 ms',
      },
    ],
  };
}
