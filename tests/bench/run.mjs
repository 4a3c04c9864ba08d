/**
 * `npm run bench`: every *.bench.ts, one after another. Each row is a measured value, where possible with a baseline taken in
 * the same run (ratios carry over to other machines, seconds do not) and a checksum of the answer, so that a fast wrong
 * answer is seen. Exit 1 when a ratio passes its limit. Every row is added to results.csv beside this file, and what it was the
 * time before stands behind it: commit the file where a row is worth keeping.
 */
import { readdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';
import { History } from './history.mjs';

const HERE = dirname(fileURLToPath(import.meta.url));
const ROOT = dirname(dirname(HERE));
const only = process.argv.slice(2);
const files = readdirSync(HERE).filter(
  (f) => f.endsWith('.bench.ts') && (only.length === 0 || only.some((o) => f.includes(o))),
);
if (files.length === 0) throw new Error('no bench files found');

const history = new History(join(HERE, 'results.csv'));
let over = 0;
for (const file of files.sort()) {
  const out = join(ROOT, 'tests/.output', file.replace(/\.ts$/, '.mjs'));
  await build({
    entryPoints: [join(HERE, file)],
    outfile: out,
    bundle: true,
    platform: 'node',
    format: 'esm',
    mainFields: ['module', 'main'],
    packages: 'external',
    // The bundle lies elsewhere than the helpers that find the samples from their own place.
    define: { 'import.meta.dirname': JSON.stringify(join(ROOT, 'tests')) },
    logLevel: 'warning',
  });
  const { bench } = await import(pathToFileURL(out).href);
  const name = file.replace('.bench.ts', '');
  console.log(`\n${name}`);
  for (const row of await bench()) {
    const measured = row.ratio ?? row.value;
    const late = row.limit !== undefined && measured > row.limit;
    if (late) over++;
    const before = history.last(name, row.name);
    history.add(name, row);
    const parts = [
      `  ${row.name}: ${format(row.value)} ${row.unit}`,
      row.baseline === undefined ? '' : `baseline ${format(row.baseline)} ${row.unit}`,
      row.ratio === undefined ? '' : `ratio ${format(row.ratio)}`,
      row.limit === undefined ? '' : `limit ${format(row.limit)}${late ? ' PASSED' : ''}`,
      `answer ${row.checksum}${before && before.checksum !== row.checksum ? ' (another than before)' : ''}`,
      before === undefined ? '' : `before ${format(before.measured)}`,
    ];
    console.log(parts.filter(Boolean).join(', '));
  }
}
history.save();
console.log(over === 0 ? '\nevery limit kept' : `\n${over} limits passed`);
process.exit(over === 0 ? 0 : 1);

function format(v) {
  return Number(v.toPrecision(4)).toString();
}
