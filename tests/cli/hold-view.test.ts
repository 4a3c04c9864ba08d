/** `tabwright hold` and `tabwright view`. What sheet and page show is tested in tests/show. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ROOT } from '../helpers.ts';
import { everythingIn, leverJob, scratch, tabwright, tabwrightHere, writeJob } from './command.ts';

const { folder, clear } = scratch();
afterAll(clear);
const program = readFileSync(join(ROOT, 'tests/cases/lifting-lever/standard/lifting-lever.ngc'), 'utf8');
beforeAll(() => {
  writeJob(folder, 'lever.json', leverJob());
  writeFileSync(join(folder, 'good.ngc'), program);
  writeFileSync(join(folder, 'bad.ngc'), program.replace(/^S(\d+) M3$/m, 'S$1 M4'));
});

describe('hold', () => {
  it('puts every way of holding side by side, with numbers and reasons', () => {
    const run = tabwright(['hold', 'lever.json'], { cwd: folder });
    expect(run.code).toBe(0);
    expect(run.err).not.toMatch(/^fault/m);
    for (const way of ['tabs', 'floor', 'screws', 'glue', 'stub'])
      expect(run.out).toMatch(new RegExp(`^${way}\\b.* `, 'm'));
    expect(run.out).toMatch(/margin\/wanted +movement mm/);
    expect(run.out).toMatch(/^tabs:\n {2}\S/m);
  });

  it('prints with --json the same as data, and writes nothing', async () => {
    const before = everythingIn(folder);
    const run = await tabwrightHere(['hold', 'lever.json', '--json'], { cwd: folder });
    const { name, ways } = JSON.parse(run.out);
    expect(name).toBe('lever');
    expect(ways.length).toBeGreaterThanOrEqual(5);
    for (const way of ways) expect(typeof way.verdict).toBe('string');
    expect(everythingIn(folder)).toEqual(before);
  });
});

describe('view', () => {
  /** One file: nothing in it is fetched from elsewhere, and its policy says so to the browser. */
  function isWhole(path: string): void {
    const html = readFileSync(join(folder, path), 'utf8');
    expect(html).toMatch(/^<!doctype html>/i);
    expect(html).toMatch(/Content-Security-Policy[^>]*default-src 'none'/);
    expect(html).not.toMatch(/(src|href)="https?:/);
  }

  it('shows a job', async () => {
    const run = await tabwrightHere(['view', 'lever.json', '-o', 'job.html'], { cwd: folder });
    expect(run.code).toBe(0);
    expect(run.out).toMatch(/job\.html\n$/);
    isWhole('job.html');
  });

  it.each([
    ['good.ngc', 0],
    ['bad.ngc', 1],
  ])('shows %s, whose exit is %d', (name, code) => {
    const run = tabwright(['view', name, '-o', `${name}.html`], { cwd: folder });
    expect(run.code).toBe(code);
    if (code === 1) expect(run.err).toMatch(/spindle-reverse/);
    isWhole(`${name}.html`);
  });
});
