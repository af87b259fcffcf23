import type { Design, WaysCompared } from '../../design';
import { printer } from '../../units';
import { wayLines, waysWords } from '../../words';
import { csvText } from './text';

/** `ways.csv`: the figures of two ways, a row each, printed in the plan's units, with their difference. */
export function waysCsv(
  design: Design,
  compared: WaysCompared,
  names: { readonly first: string; readonly second: string },
): string {
  const lines = wayLines(compared.first.figures, compared.second.figures, printer(design.plan.display.units));
  return csvText([
    [waysWords.figure, names.first, names.second, waysWords.difference],
    ...lines.map((line) => [line.name, line.first, line.second, line.difference]),
  ]);
}

/** `ways.json`: the same in SI, every run that differs, and the beds that change their valve. */
export function waysJsonText(
  compared: WaysCompared,
  names: { readonly first: string; readonly second: string },
): string {
  const side = ({ figures, runs }: WaysCompared['first'], name: string) => ({ name, figures, runs });
  return `${JSON.stringify(
    {
      format: 'rillsheet-ways',
      version: 1,
      toleranceM: compared.toleranceM,
      first: side(compared.first, names.first),
      second: side(compared.second, names.second),
      regroupedBeds: compared.regroupedBeds,
    },
    null,
    2,
  )}\n`;
}
