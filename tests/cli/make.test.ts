/** `tabwright make`: files, streams, exit codes, sameness, and that a faulty program never reaches the disk. */
import { spawn } from 'node:child_process';
import { cpSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { COMMAND } from '../built.ts';
import { ROOT } from '../helpers.ts';
import { everythingIn, leverJob, type Run, scratch, tabwright, tabwrightHere, writeJob } from './command.ts';

const { folder, clear } = scratch();
afterAll(clear);
const job = join(folder, 'lever.json');
/** Where the first run below writes; later tests compare with it or begin with a copy of it. */
const first = join(folder, 'lever');
let run: Run;
beforeAll(() => {
  writeJob(folder, 'lever.json', leverJob());
  run = tabwright(['make', job], { env: { TZ: 'UTC', LC_ALL: 'C' } });
});

/** Names and texts of all files in a folder. */
function contents(path: string): Record<string, string> {
  return Object.fromEntries(everythingIn(path).map((n) => [n, readFileSync(join(path, n), 'utf8')]));
}

describe('make', () => {
  it('writes into a folder with the name of the job beside it, results on stdout, cautions and notes on stderr', () => {
    expect(run.lines.filter((l) => !/^(caution|note) /.test(l))).toEqual([]);
    expect(run.code).toBe(0);
    expect(everythingIn(first)).toEqual(['lever.ngc', 'lever.plan.json', 'lever.sheet.html', 'lever.view.html']);
    expect(run.out).toContain(join(first, 'lever.ngc'));
    expect(run.out).toMatch(/^lever: 1 program, \d+ operations, about \d+ min/);
    expect(run.out).toMatch(/proven: /);
    expect(run.out + run.err).not.toContain('\u001b');
  });

  it('gives the same bytes from another folder, in another time zone and language, with the keys of the job turned round; with --json the plan alone', () => {
    const place = join(folder, 'same');
    const turned = writeJob(folder, 'turned.json', Object.fromEntries(Object.entries(leverJob()).reverse()));
    const there = tabwright(['make', turned, '-o', place, '--json'], {
      cwd: ROOT,
      env: { TZ: 'Pacific/Chatham', LC_ALL: 'de_DE.UTF-8', LANG: 'tr_TR.UTF-8' },
    });
    expect(there.code).toBe(0);
    expect(Object.keys(contents(first)).length).toBeGreaterThanOrEqual(2);
    expect(contents(place)).toEqual(contents(first));
    expect(JSON.parse(there.out)).toEqual(JSON.parse(readFileSync(join(first, 'lever.plan.json'), 'utf8')));
  });

  it('numbers the programs where the post has one for each cutter, and sets the older one aside', async () => {
    const place = join(folder, 'posts');
    cpSync(first, place, { recursive: true });
    const plain = await tabwrightHere(['make', job, '-o', place, '--post', 'plain']);
    expect(plain.code).toBe(0);
    expect(plain.err).toContain('older program set aside as');
    const programs = everythingIn(place).filter((n) => n.includes('.ngc'));
    expect(programs).toContain('lever.ngc.old');
    expect(programs).not.toContain('lever.ngc');
    const plan = JSON.parse(readFileSync(join(place, 'lever.plan.json'), 'utf8'));
    const listed = plan.setups.flatMap((s: { programs: string[] }) => s.programs);
    expect(listed.length).toBeGreaterThan(2);
    expect(programs.filter((n) => !n.endsWith('.old'))).toEqual(listed);
  });

  it('ends quietly when nobody reads on', async () => {
    const child = spawn(process.execPath, [COMMAND, 'make', job, '--json', '-o', join(folder, 'pipe')]);
    child.stdout.destroy();
    let err = '';
    child.stderr.on('data', (chunk) => {
      err += chunk;
    });
    const code = await new Promise((end) => child.on('close', end));
    expect(err).not.toMatch(/EPIPE|\n {4}at /);
    expect(code).toBe(0);
  });

  it('has help and a version on stdout', () => {
    const help = tabwright(['--help']);
    expect(help.code).toBe(0);
    for (const command of ['make', 'hold', 'check', 'view', 'outline', 'start'])
      expect(help.out).toMatch(new RegExp(`\\n {2}${command} `));
    const version = tabwright(['--version']);
    expect(version.code).toBe(0);
    expect(version.out.trim()).toBe(JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')).version);
  });
});

/**
 * No job is known that makes the writer go wrong, so a copy of the command is spoilt: what it writes turns the spindle backwards.
 * The check inside must hold it back.
 */
describe('a faulty program', () => {
  const place = join(folder, 'faulty');
  let spoilt = '';
  beforeAll(() => {
    const copy = join(folder, 'spoilt');
    mkdirSync(join(copy, 'dist'), { recursive: true });
    cpSync(join(ROOT, 'posts'), join(copy, 'posts'), { recursive: true });
    const text = readFileSync(COMMAND, 'utf8');
    expect(text.split(' M3`').length).toBe(2);
    spoilt = join(copy, 'dist', 'tabwright.mjs');
    writeFileSync(spoilt, text.replace(' M3`', ' M4`'));
  });

  it('is not released: exit 1, the older one set aside, nothing runnable left', () => {
    cpSync(first, place, { recursive: true });
    const older = readFileSync(join(place, 'lever.ngc'), 'utf8');
    const faulty = tabwright(['make', job, '-o', place], { command: spoilt });
    expect(faulty.code).toBe(1);
    expect(faulty.out).toBe('');
    expect(faulty.err).toMatch(/^fault lever\.ngc:\d+ spindle-reverse/m);
    expect(faulty.err).toMatch(/not released, \d+ faults?$/m);
    expect(everythingIn(place).filter((n) => n.endsWith('.ngc'))).toEqual([]);
    expect(readFileSync(join(place, 'lever.ngc.old'), 'utf8')).toBe(older);
  });

  it('of a job that is refused --json gives the faults, with their places', async () => {
    const bad = writeJob(folder, 'bad.json', { ...leverJob(), hold: 'tape' });
    const refused = await tabwrightHere(['make', bad, '--json']);
    expect(refused.code).toBe(2);
    const { report } = JSON.parse(refused.out);
    expect(report.faults).toEqual([expect.objectContaining({ code: 'wrong-shape', path: 'hold', file: bad })]);
    expect(report.faults[0].line).toBeGreaterThan(0);
  });

  it('makes no folder where there was none', async () => {
    const faulty = await tabwrightHere(['make', job, '--json', '-o', join(folder, 'never')], { command: spoilt });
    expect(faulty.code).toBe(1);
    // A script is answered all the same: the plan, with its faults.
    const { name, report } = JSON.parse(faulty.out);
    expect(name).toBe('lever');
    expect(report.faults[0]).toMatchObject({ code: 'spindle-reverse', program: 0 });
    expect(everythingIn(folder)).not.toContain('never');
  });
});
