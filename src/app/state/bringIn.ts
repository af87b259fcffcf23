import { createElement } from 'react';
import type { DrawingReading } from '../../core/exchange';
import type { Plan } from '../../core/plan';
import type { Outcome, Problem } from '../../core/units';
import { sayProblem } from '../../core/words';
import type { FileKind } from '../../host/contract';
import { type DrawingChoice, DrawingQuestion } from '../parts/DrawingQuestion';
import { SiteQuestion } from '../parts/SiteQuestion';
import { say } from './desk';
import { runErrand, runShown } from './errands';
import { complain } from './files';
import { host } from './host';
import { putBeside } from './putBeside';
import { ask } from './question';
import { currentPrinter } from './units';

const SITE_KIND: FileKind = {
  label: 'GeoJSON, DXF or points',
  extensions: ['geojson', 'json', 'dxf', 'csv'],
};

/** A drawing read in the worker and read again with each choice; null where the question was put away or the reading stopped. */
async function askDrawing(text: string, fileName: string): Promise<Outcome<DrawingReading> | null> {
  const first = await runShown('Reading the drawing', 'drawing', { text, fileName });
  if (!first?.ok) return first;
  const read = (choice: DrawingChoice, signal: AbortSignal): Promise<Outcome<DrawingReading>> =>
    runErrand('drawing', { text, fileName, ...choice }, signal);
  return ask<Outcome<DrawingReading>>('What the drawing holds', (settle) =>
    createElement(DrawingQuestion, { name: fileName, first: first.value, read, onAnswer: settle }),
  );
}

const remarksOf = (problems: readonly Problem[]): string[] =>
  problems.map((problem) => {
    const said = sayProblem(problem, currentPrinter());
    return `${said.what} ${said.where}`.trim();
  });

async function askSite(text: string, fileName: string): Promise<Outcome<Plan> | null> {
  const kind = /\.csv$/i.test(fileName) ? 'points' : 'geojson';
  const read = await runShown('Reading the file', kind, { text, fileName });
  if (!read?.ok) return read;
  const answer = await ask<'take'>('What the file holds', (settle) =>
    createElement(SiteQuestion, {
      name: fileName,
      plan: read.value,
      remarks: remarksOf(read.problems),
      onAnswer: settle,
    }),
  );
  return answer && read;
}

/** Reads a site that another program wrote, asks what it is, and puts it beside what is drawn, as one edit. */
export async function bringInSite(): Promise<void> {
  const answer = await host.open([SITE_KIND]);
  if (answer.kind === 'refused') say('The file could not be read.', 'stop', answer.detail);
  if (answer.kind !== 'done') return;
  const { bytes, name } = answer.value;
  const text = new TextDecoder().decode(bytes);
  if (/\.dxf$/i.test(name)) {
    const drawing = await askDrawing(text, name);
    if (drawing?.ok) putBeside(drawing.value.plan);
    if (drawing && !drawing.ok) complain(drawing.problems);
    return;
  }
  const site = await askSite(text, name);
  if (site?.ok) putBeside(site.value);
  else if (site) complain(site.problems);
}
