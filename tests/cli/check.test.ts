/** `tabwright check` on the command's own programs, whole and spoilt, alone and against the job. */
import { readFileSync, truncateSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { everythingIn, leverJob, scratch, tabwright, tabwrightHere, writeJob } from './command.ts';

const { folder, clear } = scratch();
afterAll(clear);
let job = '';
const one = join(folder, 'standard', 'lever.ngc');
let several: string[] = [];

beforeAll(async () => {
  job = writeJob(folder, 'lever.json', leverJob());
  expect((await tabwrightHere(['make', job, '-o', join(folder, 'standard')])).code).toBe(0);
  expect((await tabwrightHere(['make', job, '-o', join(folder, 'plain'), '--post', 'plain'])).code).toBe(0);
  several = everythingIn(join(folder, 'plain'))
    .filter((n) => n.endsWith('.ngc'))
    .map((n) => join(folder, 'plain', n));
});

/** A spoilt copy of the standard program. */
function spoil(name: string, change: (text: string) => string): string {
  const text = readFileSync(one, 'utf8');
  const changed = change(text);
  expect(changed).not.toBe(text);
  const path = join(folder, name);
  writeFileSync(path, changed);
  return path;
}

describe('check', () => {
  it('passes its own program alone, and says what it could not prove', () => {
    const run = tabwright(['check', one]);
    expect(run.code).toBe(0);
    expect(run.err).toBe('');
    expect(run.out).toMatch(/^0 faults, 0 cautions; cutters 1, 2, 3, 4, 5/);
    expect(run.out).toMatch(/not proven: the part: no job was given/);
  });

  it('proves it against its job', async () => {
    const run = await tabwrightHere(['check', one, '--job', job]);
    expect(run.code).toBe(0);
    for (const what of ['gouge', 'edge reached', 'hole places', 'still held'])
      expect(run.out).toContain(`proven: ${what}`);
  });

  it('takes several programs in running order', async () => {
    expect(several.length).toBeGreaterThan(2);
    expect((await tabwrightHere(['check', ...several, '--job', job])).code).toBe(0);
    expect((await tabwrightHere(['check', ...several.toReversed(), '--job', job])).code).toBe(1);
  });

  it('prints the whole report with --json, and only that', async () => {
    const run = await tabwrightHere(['check', one, '--job', job, '--json']);
    const report = JSON.parse(run.out);
    expect(report.faults).toEqual([]);
    expect(report.proven.length).toBeGreaterThan(3);
    expect(run.err).toBe('');
  });

  it.each([
    ['a word that is no number', (t: string) => t.replace(/\bG1 Z/, 'G1 ZZ'), []],
    ['a spindle left off', (t: string) => t.replaceAll(' M3', ''), ['spindle-off']],
    ['a rapid for a feed', (t: string) => t.replace(/^G1 (?=Z-)/m, 'G0 '), []],
    ['no end', (t: string) => t.replaceAll('%\n', '').replace('\nM2\n', '\n'), []],
  ])('refuses %s with the line', async (name, change, codes) => {
    const path = spoil(`${name.replaceAll(' ', '-')}.ngc`, change);
    const run = await tabwrightHere(['check', path, '--job', job]);
    expect(run.code).toBe(1);
    const faults = run.lines.filter((l) => l.startsWith('fault '));
    expect(faults.length).toBeGreaterThan(0);
    expect(faults.some((l) => l.startsWith(`fault ${path}:`))).toBe(true);
    for (const code of codes) expect(run.err).toContain(` ${code}`);
  });

  it('refuses a path moved into the part, and says how deep', async () => {
    const path = spoil('gouge.ngc', (t) =>
      t.replaceAll(/^(G[23] .*) Y(-?[\d.]+)( .*)?$/gm, (_m, a, y, b) => `${a} Y${Number(y) + 0.2}${b ?? ''}`),
    );
    const run = await tabwrightHere(['check', path, '--job', job]);
    expect(run.code).toBe(1);
    expect(run.err).toMatch(/^fault /m);
  });

  it('refuses a program of another job', async () => {
    const other = leverJob();
    other.part.outline.bosses[1].at = [33, 0];
    other.part.holes[1].at = [33, 0];
    const run = await tabwrightHere(['check', one, '--job', writeJob(folder, 'other.json', other)]);
    expect(run.code).toBe(1);
  });

  it.each(['', 'hello\n', '%\n%\n'])('refuses %j as a program', async (text) => {
    const path = join(folder, 'odd.ngc');
    writeFileSync(path, text);
    const run = await tabwrightHere(['check', path]);
    expect(run.code).toBe(1);
    expect(run.err).toMatch(/^fault /m);
  });

  it('refuses a job given for a program, and says what it is for', async () => {
    const run = await tabwrightHere(['check', job]);
    expect(run.code).toBe(2);
    expect(run.lines).toEqual([
      `fault ${job} not-a-program: a job file in JSON; a program; run \`tabwright make ${job}\``,
    ]);
  });

  it('refuses a bad job with exit 2, whatever the program', async () => {
    const bad = leverJob();
    bad.part.thickness = -1;
    const run = await tabwrightHere(['check', one, '--job', writeJob(folder, 'bad.json', bad)]);
    expect(run.code).toBe(2);
    expect(run.out).toBe('');
    expect(run.lines).toHaveLength(1);
    expect(run.err).toContain('out-of-range part.thickness');
  });
});

describe('a very long program', () => {
  const path = join(folder, 'long.ngc');
  const head = 'G17 G21 G40 G49 G54 G80 G90 G94 G98 G61\nG0 Z5\nG0 X0 Y0\nS1000 M3\nF100\n';

  it('is refused against a job, with the limit, before it is read', async () => {
    const large = join(folder, 'large.ngc');
    writeFileSync(large, `${head}${'G1 X1 Y2 F100\n'.repeat(100_000)}`);
    truncateSync(large, 129 * 1024 * 1024);
    const run = await tabwrightHere(['check', large, '--job', writeJob(folder, 'good.json', leverJob())]);
    expect(run.code).toBe(2);
    expect(run.lines).toHaveLength(1);
    expect(run.lines[0]).toMatch(/large\.ngc file-too-large: a program of 129\.0 MB; at most 128 MB; /);
  });

  it('alone is read to its end, and a fault in its last lines is placed', async () => {
    writeFileSync(path, `${head}${'G1 X1 Y2 F100\n'.repeat(620_000)}M5\nM2\n`);
    const good = await tabwrightHere(['check', path]);
    expect([good.code, good.lines]).toEqual([0, []]);
    expect(good.out).toMatch(/^0 faults, 0 cautions/);
    writeFileSync(path, `${head}${'G1 X1 Y2 F100\n'.repeat(620_000)}G1 U5\nM5\nM2\n`);
    const bad = await tabwrightHere(['check', path]);
    expect(bad.code).toBe(1);
    expect(bad.lines[0]).toMatch(/long\.ngc:620006:4 rs274-5/);
  });
});
