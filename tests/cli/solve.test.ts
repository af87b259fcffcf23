import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { runSolve } from '../../src/cli/solve';

const folder = new URL('../reference/hydraulics/networks/', import.meta.url);
const load = (name: string) => readFileSync(new URL(name, folder), 'utf8');
const options = { fileName: 'zone.inp', json: true, say: (problem: { code: string }) => problem.code };

describe('the solve command', () => {
  it('prints every node and link as the promised JSON', () => {
    const { exitCode, stdout, stderr } = runSolve(load('P03_loop250_symmetric.D-W.inp'), options);
    expect(exitCode).toBe(0);
    expect(stderr).toBe('');
    const answer = JSON.parse(stdout);
    expect(Object.keys(answer).sort()).toEqual([
      'converged',
      'iterations',
      'links',
      'nodes',
      'worstResidualM3s',
    ]);
    expect(answer.converged).toBe(true);
    expect(answer.worstResidualM3s).toBeLessThan(1e-9);
    expect(Object.keys(answer.nodes)).toHaveLength(251);
    expect(Object.keys(answer.nodes.E125).sort()).toEqual(['headM', 'outflowM3s', 'pressureM']);
    expect(Object.keys(answer.links.P1).sort()).toEqual(['flowM3s', 'headlossM', 'velocityMs']);
    // EPANET: 23.9368346 psi at the lowest emitter, by its 0.4333 psi a foot.
    const lowest = Math.min(
      ...Object.entries(answer.nodes)
        .filter(([id]) => id.startsWith('E'))
        .map(([, node]) => (node as { pressureM: number }).pressureM),
    );
    expect((lowest / 0.3048) * 0.4333).toBeCloseTo(23.9368346, 4);
  });

  it('prints a table without the flag', () => {
    const { stdout } = runSolve(load('P17_single_pipes.H-W.inp'), { ...options, json: false });
    expect(stdout).toMatch(/^settled after \d+ steps/);
    expect(stdout).toMatch(/^X1 /m);
  });

  it('refuses what it does not take, by name, with exit code 1 and no answer', () => {
    const text = `${load('P17_single_pipes.H-W.inp').replace('[END]', '')}[PUMPS]\nPU R D1 HEAD 1\n[END]\n`;
    const { exitCode, stdout, stderr } = runSolve(text, options);
    expect(exitCode).toBe(1);
    expect(stdout).toBe('');
    expect(stderr).toContain('exchange.inp-refuses-section');
  });

  it('refuses a network it cannot solve, naming what is wrong', () => {
    const text = '[JUNCTIONS]\nA 0 1\nB 0 1\n[RESERVOIRS]\nR 50\n[PIPES]\nP R A 10 1 150\n[END]\n';
    const { exitCode, stderr } = runSolve(text, options);
    expect(exitCode).toBe(1);
    expect(stderr).toContain('hydraulics.disconnected');
  });

  it('with our own constants stays within 0.1 % of the answer with EPANET its own', () => {
    const text = load('P05_ladder12_flush.D-W.inp');
    const total = (profile: 'epanet' | 'own') =>
      JSON.parse(runSolve(text, { ...options, profile }).stdout).nodes.R.outflowM3s as number;
    expect(Math.abs(total('own') / total('epanet') - 1)).toBeLessThan(1e-3);
    expect(total('own')).not.toBe(total('epanet'));
  });
});
