import { appendFileSync } from 'node:fs';

/** True in the long run, `npm run faults`. */
export const isLong = process.env.RILLSHEET_FAULTS === 'long';
const share = Number(process.env.RILLSHEET_FAULTS_SHARE ?? 1);

/** How many faults are tried: few in every test run, many in the long one, or the share of them that was asked for. */
export const amount = (short: number, long: number): number =>
  isLong ? Math.max(short, Math.ceil(long * share)) : short;

/** Prints what was counted, and keeps it for the table at the end of the long run. */
export function report(name: string, counts: Readonly<Record<string, number | string>>): void {
  const line = `${name}: ${Object.entries(counts)
    .map(([what, count]) => `${count} ${what}`)
    .join(', ')}`;
  console.log(line);
  const file = process.env.RILLSHEET_FAULTS_COUNTS;
  if (file) appendFileSync(file, `${line}\n`);
}
