/** Frames of a long program and the opening of a very long one, in a browser with software graphics. */
import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { ROOT } from '../helpers.ts';
import type { Row } from './row.ts';

export async function bench(): Promise<Row[]> {
  const vitest = join(ROOT, 'node_modules/vitest/vitest.mjs');
  const args = [
    vitest,
    'run',
    '--config',
    'tests/vitest.config.ts',
    '--root',
    '.',
    'tests/show/page/browser.test.ts',
    '-t',
    'timed by the bench',
  ];
  const run = spawnSync(process.execPath, args, {
    cwd: ROOT,
    encoding: 'utf8',
    env: { ...process.env, BENCH: '1', NO_COLOR: '1' },
  });
  const rows: Row[] = [];
  for (const [, view, median, slowed] of run.stdout.matchAll(
    /moves, (\w+) view: median (\d+) ms.*slowed ([\d.]+) times/g,
  )) {
    const note = Number(slowed) > 1.3 ? `, machine slowed ${slowed} times by other work` : '';
    rows.push({
      name: `a frame of 20 000 moves, ${view} view${note}`,
      value: Number(median),
      unit: 'ms',
      limit: 150,
      checksum: 'as the test',
    });
  }
  for (const [, size, seconds] of run.stdout.matchAll(/million moves: ([\d.]+) MB, drawn ([\d.]+) s/g)) {
    rows.push({
      name: 'a million moves drawn after opening',
      value: Number(seconds),
      unit: 's',
      limit: 3,
      checksum: `${size} MB`,
    });
  }
  if (rows.length !== 3) throw new Error(`the page was not timed (no browser?):\n${run.stdout.slice(-2000)}`);
  return rows;
}
