import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { typicalCatalog } from '../../src/core/catalog';
import { designPlan } from '../../src/core/design';
import { readGeoJson, writeDxf } from '../../src/core/exchange';
import { writePlan } from '../../src/core/plan';
import { amount, report } from './amounts';
import { buildChildren, start } from './child';
import { BOMBS } from './children/bombs';
import { DOORS, type DoorName } from './children/formats';
import type { ReaderAnswer, ReaderTask } from './children/reader';

const SEED = 20_250_101;
/** Processor time is measured in the child. A hang is a silence of so many seconds in which this process itself had its turn: a machine that sleeps or gives neither of us a turn is none. */
const SILENT_TURNS = 60;
const MOST_MB = 512;

const readText = (path: string) => readFileSync(new URL(`../../${path}`, import.meta.url), 'utf8');

/** A sound file for each door, small, so that a fault lands on something that counts. */
function soundTexts(): Record<DoorName, string> {
  const siteText = readText('assets/schema/examples/site.geojson');
  const site = readGeoJson(siteText, { fileName: 'site.geojson' });
  if (!site.ok) throw new Error('the example reads');
  const png = Buffer.from(
    'iVBORw0KGgoAAAANSUhEUgAAAAIAAAACCAIAAAD91JpzAAAAEElEQVR4nGP8z8AARAwQCgAf7gP9i18U1AAAAABJRU5ErkJggg==',
    'base64',
  ).toString('latin1');
  const jpeg = `\xff\xd8\xff\xe0\0\x10JFIF\0\x01\x01\0\0\x01\0\x01\0\0\xff\xdb\0\x04\0\x01\xff\xc0\0\x0b\x08\0\x20\0\x20\x01\x01\x11\0\xff\xc4\0\x04\0\x01\xff\xda\0\x08\x01\x01\0\0\x3f\0${'\x12\xff\0\x34'.repeat(30)}\xff\xd9`;
  return {
    plan: writePlan(site.value),
    geojson: siteText,
    dxf: writeDxf(designPlan(site.value, typicalCatalog, { quality: 'preview' })),
    points: 'Name,Easting,Northing,Elevation,Bed\n1,0,0,1.5,north\n2,4,0,1.6,north\n3,4,3,,north\n4,9,9,2,\n',
    'parts-json': readText('assets/schema/examples/parts.json'),
    'parts-csv':
      'kind,id,name,use,lossK,packOf,order.partNumber,order.price\nfitting,staple,Staple,staple,0,100,S-8,0.12\nfitting,tee,Tee,tee,0.9,1,T-17,1.35\n',
    inp: '[JUNCTIONS]\nj1 0 0\n[RESERVOIRS]\nr 30\n[PIPES]\np r j1 100 20 0.0015 0 Open\n[EMITTERS]\nj1 0.01\n[OPTIONS]\nUnits LPS\nHeadloss D-W\n[END]\n',
    png,
    jpeg,
  };
}

let folder: string;
let script: string;
let texts: string;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'rillsheet-doors-'));
  texts = join(folder, 'texts.json');
  writeFileSync(texts, JSON.stringify(soundTexts()));
  script = (await buildChildren(['reader'])).reader;
}, 120_000);
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
  rmSync(join(script, '..'), { recursive: true, force: true });
});

/** Lets a child of its own read the inputs of a task, under 512 MB; one that falls silent is killed and its input named. */
async function readAll(task: Partial<ReaderTask>): Promise<ReaderAnswer> {
  const whole: ReaderTask = {
    kind: 'mutate',
    door: 'plan',
    texts,
    from: 0,
    to: 1,
    seed: SEED,
    step: 1,
    ...task,
  };
  const { child, said, ended } = start(script, [JSON.stringify(whole)], [`--max-old-space-size=${MOST_MB}`]);
  let length = -1;
  let silentTurns = 0;
  const watch = setInterval(() => {
    silentTurns = said().length === length ? silentTurns + 1 : 0;
    length = said().length;
    if (silentTurns === SILENT_TURNS) child.kill('SIGKILL');
  }, 1000);
  const code = await ended;
  clearInterval(watch);
  const last = said().trimEnd().split('\n').at(-1) ?? '';
  if (code !== 0 || !last.startsWith('{')) {
    const how = silentTurns === SILENT_TURNS ? `said nothing for ${SILENT_TURNS} s` : `ended by ${code}`;
    throw new Error(`${whole.kind} ${whole.door}: input ${last} ${how}`);
  }
  return JSON.parse(last) as ReaderAnswer;
}

const inTotal = (answers: readonly ReaderAnswer[]) => ({
  tried: answers.reduce((sum, { tried }) => sum + tried, 0),
  taken: answers.reduce((sum, { taken }) => sum + taken, 0),
  refused: answers.reduce((sum, { tried, taken }) => sum + tried - taken, 0),
  'ms of processor time for the slowest': Math.max(...answers.map((answer) => answer.slowestMs)),
  'MB at the peak': Math.max(...answers.map((answer) => answer.peakMB)),
});

function expectHarmless(answers: readonly ReaderAnswer[]): void {
  expect(answers.flatMap((answer) => answer.faults)).toEqual([]);
  expect(Math.max(...answers.map((answer) => answer.peakMB))).toBeLessThan(MOST_MB);
}

describe('a file from outside', () => {
  const doors = Object.keys(DOORS) as DoorName[];

  it('cut at any byte is refused by name and place, under 2 s and 512 MB', {
    timeout: 3_600_000,
  }, async () => {
    const count = amount(2000, 200_000);
    const of = (door: DoorName, share: number) =>
      readAll({ kind: 'cut', door, to: Math.ceil(count * share), step: door === 'dxf' ? 7 : 1 });
    const answers = [
      await of('plan', 0.5),
      await of('geojson', 0.2),
      await of('dxf', 0.1),
      await of('parts-json', 0.1),
      await of('png', 0.05),
      await of('jpeg', 0.05),
    ];
    report('files cut at a byte', inTotal(answers));
    expectHarmless(answers);
  });

  it('with faults put in is refused by name, or taken and saved twice the same', {
    timeout: 3_600_000,
  }, async () => {
    const each = Math.ceil(amount(3000, 100_000) / doors.length);
    const answers: ReaderAnswer[] = [];
    for (const door of doors) {
      const answer = await readAll({ kind: 'mutate', door, to: each });
      report(`faulty files, ${door}`, inTotal([answer]));
      answers.push(answer);
    }
    report('faulty files, all', inTotal(answers));
    expectHarmless(answers);
    // Faults that are always refused, or never, would test little.
    expect(answers.some((answer) => answer.taken > 0)).toBe(true);
    expect(answers.every((answer) => answer.taken < answer.tried)).toBe(true);
  });

  it('made to do harm is refused by name, or taken whole, before it does any', {
    timeout: 3_600_000,
  }, async () => {
    const answers: ReaderAnswer[] = [];
    for (let from = 0; from < BOMBS.length; from += 8) {
      answers.push(await readAll({ kind: 'bomb', from, to: Math.min(BOMBS.length, from + 8) }));
    }
    report('files made to do harm', inTotal(answers));
    expectHarmless(answers);
  });
});
