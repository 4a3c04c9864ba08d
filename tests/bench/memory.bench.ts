/** Peak memory of the check against a job, of a long program over one a quarter as long: what does not grow stays about 1. */
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Row } from './row.ts';

const MEGA = 1024 * 1024;
/** MB. The shorter has some 190 000 strokes, five times what stays unpacked. */
const SHORT = 4;
const LONG = 16;
const JOB = 'samples/lifting-lever.json';
const COMMAND = 'dist/tabwright.mjs';
/** Loaded before the command: the process's own peak, in KB, as the system counts it. */
const TELL_PEAK = `data:text/javascript,process.on('exit',()=>console.error('peak '+process.resourceUsage().maxRSS))`;

export async function bench(): Promise<Row[]> {
  const folder = mkdtempSync(join(tmpdir(), 'tabwright-bench-'));
  execFileSync(process.execPath, [COMMAND, 'make', JOB, '-o', folder], { stdio: 'ignore' });
  const program = readdirSync(folder).find((f) => f.endsWith('.ngc'))!;
  const text = readFileSync(join(folder, program), 'utf8');
  const [short, long] = [SHORT, LONG].map((size) => peak(join(folder, `${size}.ngc`), text, size)) as [Peak, Peak];
  rmSync(folder, { recursive: true });
  return [
    {
      name: `memory of check with a job, ${LONG} MB over ${SHORT} MB`,
      value: long.kilobytes / 1024,
      unit: 'MB',
      baseline: short.kilobytes / 1024,
      ratio: long.kilobytes / short.kilobytes,
      // A quarter of four times: what grew with the program would be near 4.
      limit: 1.25,
      checksum: `${short.says}, ${long.says}`,
    },
  ];
}

interface Peak {
  readonly kilobytes: number;
  readonly says: string;
}

function peak(path: string, text: string, size: number): Peak {
  writeFileSync(path, repeated(text, size * MEGA));
  const run = spawnSync(process.execPath, ['--import', TELL_PEAK, COMMAND, 'check', path, '--job', JOB], {
    encoding: 'utf8',
  });
  const found = /peak (\d+)/.exec(run.stderr);
  if (found === null) throw new Error(`no peak was told: ${run.stderr.slice(0, 400)}`);
  return { kilobytes: Number(found[1]), says: run.stdout.split(';')[0]! };
}

/** The pass that goes through, again and again: air after the first time, and as much to prove. */
function repeated(text: string, bytes: number): string {
  const lines = text.split('\n');
  const from = lines.findIndex((l) => l.startsWith('(Operation') && l.includes('goes through')) + 1;
  const to = lines.findIndex((l, i) => i > from && /^M[05]|^\(/.test(l));
  const body = lines.slice(from, to);
  const times = Math.ceil(bytes / (body.join('\n').length + 1));
  const more = Array.from({ length: times }, () => body).flat();
  return [...lines.slice(0, from), ...more, ...lines.slice(from)].join('\n');
}
