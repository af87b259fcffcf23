import { mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { ensurePackages, root } from './install.mjs';

ensurePackages();
const wanted = process.argv.slice(2).filter((arg) => !arg.startsWith('-'));
const isFull = process.argv.includes('--full');

/** Prints rows (plain objects of one shape) as a table with aligned columns. */
function printTable({ title, rows }) {
  console.log(`\n${title}`);
  if (rows.length === 0) return console.log('  (no rows)');
  const columns = [...new Set(rows.flatMap((row) => Object.keys(row)))];
  const text = (value) =>
    typeof value === 'number'
      ? Number.isInteger(value)
        ? String(value)
        : value.toPrecision(4)
      : String(value ?? '');
  const widths = columns.map((column) =>
    Math.max(column.length, ...rows.map((row) => text(row[column]).length)),
  );
  const line = (cells) =>
    `  ${cells
      .map((cell, i) => cell.padEnd(widths[i]))
      .join('  ')
      .trimEnd()}`;
  console.log(line(columns));
  for (const row of rows) console.log(line(columns.map((column) => text(row[column]))));
}

const { bundleForNode } = await import('./bundle.mjs');
const files = readdirSync(join(root, 'tests/bench')).filter(
  (name) => name.endsWith('.bench.ts') && (wanted.length === 0 || wanted.some((word) => name.includes(word))),
);
const outDir = join(root, 'dist/bench');
await bundleForNode({
  programs: Object.fromEntries(files.map((name) => [name.replace('.ts', ''), `tests/bench/${name}`])),
  outDir: 'dist/bench',
  external: ['epanet-js', '@resvg/resvg-js', 'jspdf', 'pdfjs-dist', 'playwright', 'vite'],
});
const results = [];
for (const name of files) {
  const module = await import(pathToFileURL(join(outDir, name.replace('.ts', '.js'))).href);
  for (const [key, bench] of Object.entries(module)) {
    if (!key.startsWith('bench') || typeof bench !== 'function') continue;
    const result = await bench({ root, full: isFull });
    for (const table of Array.isArray(result) ? result : [result]) {
      printTable(table);
      results.push(table);
    }
  }
}
mkdirSync(join(root, 'dist'), { recursive: true });
writeFileSync(join(root, 'dist/bench.json'), `${JSON.stringify(results, null, 1)}\n`);
console.log('\nAs JSON: dist/bench.json');
