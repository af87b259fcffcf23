import type { Design } from '../core/design';
import { namesOf } from '../core/exchange';
import { wateringLengthM } from '../core/layout';
import { type Printer, type Problem, printer } from '../core/units';
import { sayProblem } from '../core/words';

const SIGNS = { stop: 'STOP', warn: 'CHECK', note: 'note' } as const;

/** One problem on a few plain lines: what, where, why, what to do next. */
export function problemLines(
  problem: Problem,
  print: Printer,
  names: Readonly<Record<string, string>> = {},
): string {
  const said = sayProblem(problem, print, names);
  const where = said.where === '' ? '' : ` [${said.where}]`;
  const more = [said.why, said.next].filter((part) => part !== '').map((part) => `\n        ${part}`);
  return `  ${SIGNS[problem.severity].padEnd(5)} ${said.what}${where}${more.join('')}`;
}

const table = (rows: readonly (readonly string[])[]): string => {
  const widths = (rows[0] ?? []).map((_, column) => Math.max(...rows.map((row) => row[column]?.length ?? 0)));
  return rows
    .map(
      (row) =>
        `  ${row
          .map((cell, column) => cell.padEnd(widths[column] ?? 0))
          .join('  ')
          .trimEnd()}`,
    )
    .join('\n');
};

/** The short table of a design: beds, zones, findings. */
export function summaryText(design: Design): string {
  const print = printer(design.plan.display.units);
  const beds = design.beds.map((bed) => {
    const tubing = wateringLengthM(bed.layout.runs);
    const emitters = bed.layout.runs.reduce((sum, run) => sum + run.emittersM.length, 0);
    return [
      bed.mark,
      bed.name,
      bed.layout.status === 'routed' ? bed.layout.layout : 'not routed',
      print.area(bed.layout.areaM2),
      print.tubing(tubing),
      print.tubing(bed.layout.ruleOfThumbLengthM),
      String(emitters),
      print.small(bed.layout.rowSpacingM),
      print.percent(bed.layout.coverage.coveredRatio),
    ];
  });
  const zones = design.supply.zones.map((zone) => [
    String(zone.number),
    zone.bedIds.map((id) => design.beds.find((bed) => bed.id === id)?.mark ?? id).join(', '),
    zone.assembly.class,
    print.flow(zone.flowM3s),
    print.pressure(zone.emitterHeadM.min),
    print.pressure(zone.requiredSourceHeadM),
    print.pressure(zone.availableSourceHeadM),
    print.percent(zone.emissionUniformity),
  ]);
  const counts = (['stop', 'warn', 'note'] as const).map(
    (severity) => design.findings.filter((finding) => finding.severity === severity).length,
  );
  return [
    'Beds',
    table([
      ['bed', 'name', 'layout', 'area', 'tubing', 'rule of thumb', 'emitters', 'rows', 'covered'],
      ...beds,
    ]),
    'Zones',
    table([['zone', 'beds', 'assembly', 'flow', 'lowest', 'needs', 'has', 'uniformity'], ...zones]),
    `Findings: ${counts[0]} to stop for, ${counts[1]} to check, ${counts[2]} noted`,
    ...design.findings.map((finding) => problemLines(finding, print, namesOf(design))),
    '',
  ].join('\n');
}
