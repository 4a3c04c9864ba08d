/** `make` of the sample from a cold start to files on disk, against `node -e 0` on the same machine. */
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Row } from './row.ts';

const TIMES = 9;
/** Twelve while V8's compiled code was stored with the command; other releases of Node crashed on it, and to compile anew takes two more. */
const LIMIT = 14;

export async function bench(): Promise<Row[]> {
  const folder = mkdtempSync(join(tmpdir(), 'tabwright-bench-'));
  const make = ['dist/tabwright.mjs', 'make', 'samples/lifting-lever.json', '-o', folder];
  const bare: number[] = [];
  const made: number[] = [];
  // Interleaved, so that both see the same machine.
  for (let i = 0; i < TIMES; i++) {
    bare.push(time(['-e', '0']));
    made.push(time(make));
  }
  const program = readdirSync(folder).find((f) => f.endsWith('.ngc'))!;
  const checksum = createHash('sha256')
    .update(readFileSync(join(folder, program)))
    .digest('hex')
    .slice(0, 12);
  rmSync(folder, { recursive: true });
  const baseline = median(bare);
  const value = median(made);
  return [
    {
      name: 'make of the lifting lever, cold',
      value,
      unit: 'ms',
      baseline,
      ratio: value / baseline,
      limit: LIMIT,
      checksum,
    },
  ];
}

function time(args: readonly string[]): number {
  const begun = performance.now();
  execFileSync(process.execPath, args, { stdio: 'ignore' });
  return performance.now() - begun;
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;
}
