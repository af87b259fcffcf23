import { readFileSync, writeSync } from 'node:fs';
import { mutate, seeded } from '../mutate';
import { BOMBS } from './bombs';
import { type DoorName, tryDoor } from './formats';

/** What a reader is asked to do: inputs from number `from` up to `to`, of one kind. */
export interface ReaderTask {
  readonly kind: 'cut' | 'mutate' | 'bomb';
  readonly door: DoorName;
  /** JSON file with the sound texts of every door. */
  readonly texts: string;
  readonly from: number;
  readonly to: number;
  readonly seed: number;
  /** Of cuts: how many bytes lie between one and the next. */
  readonly step: number;
}

export interface ReaderAnswer {
  readonly tried: number;
  readonly taken: number;
  readonly slowestMs: number;
  readonly slowest: number;
  readonly peakMB: number;
  readonly faults: readonly string[];
}

const task = JSON.parse(process.argv[2] ?? '') as ReaderTask;
const texts = JSON.parse(readFileSync(task.texts, 'utf8')) as Record<DoorName, string>;

/** Input number n, the same on every machine. */
function inputOf(n: number): string {
  if (task.kind === 'bomb') return BOMBS[n]!.make();
  const text = texts[task.door];
  if (task.kind === 'cut') return text.slice(0, 1 + ((n * task.step) % (text.trimEnd().length - 1)));
  return mutate(text, seeded(task.seed + n));
}

let taken = 0;
let slowest = { ms: 0, n: task.from };
const faults: string[] = [];
for (let n = task.from; n < task.to; n++) {
  // Written before each input, so that the one that hangs or fills the memory can be named.
  writeSync(1, `${n}\n`);
  const input = inputOf(n);
  const before = process.cpuUsage();
  const { isTaken, fault } = tryDoor(task.kind === 'bomb' ? BOMBS[n]!.door : task.door, input);
  const used = process.cpuUsage(before);
  const ms = (used.user + used.system) / 1000;
  if (isTaken) taken += 1;
  if (ms > slowest.ms) slowest = { ms, n };
  const name = task.kind === 'bomb' ? BOMBS[n]!.name : `${task.door} ${task.kind} ${n} (seed ${task.seed})`;
  if (fault !== null) faults.push(`${name}: ${fault}`);
  if (ms > 2000) faults.push(`${name}: ${Math.round(ms)} ms`);
  if (isTaken && task.kind === 'bomb' && !BOMBS[n]!.mayBeTaken) faults.push(`${name}: taken`);
  if (
    isTaken &&
    task.kind === 'cut' &&
    task.door !== 'points' &&
    task.door !== 'parts-csv' &&
    task.door !== 'inp'
  )
    faults.push(`${name}: taken though cut`);
}
const answer: ReaderAnswer = {
  tried: task.to - task.from,
  taken,
  slowestMs: Math.round(slowest.ms),
  slowest: slowest.n,
  peakMB: Math.round(process.resourceUsage().maxRSS / 1024),
  faults: faults.slice(0, 20),
};
writeSync(1, `${JSON.stringify(answer)}\n`);
