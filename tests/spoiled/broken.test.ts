/** Nothing that can be in a file makes the whole check crash or hang, and every refusal says where. */
import { describe, expect, it } from 'vitest';
import { checkPrograms } from '../../src/check/check.ts';
import type { Report } from '../../src/check/report.ts';
import { leverJob, leverProgram } from '../check/lever.ts';
import { FULL, random, runs, SEED } from '../runs.ts';
import { GOODS } from './jobs.ts';

const good = GOODS[0]!.make();
const text = good.programs[0]!.text;
const check = (t: string): Report => checkPrograms([{ file: 'a.ngc', text: t }], good.job);

/** A file and a line, whatever it is. */
function placed(r: Report): void {
  for (const f of [...r.faults, ...r.cautions]) {
    expect(f.place.file, f.code).toBe('a.ngc');
    expect(Number.isInteger(f.block), f.code).toBe(true);
    expect(f.place.line, `${f.code} ${f.found}`).toBeGreaterThan(0);
    expect(`${f.found}${f.wanted}${f.remedy}`, f.code).not.toMatch(/undefined|NaN|Infinity/);
  }
}

describe('broken programs', () => {
  it('truncations of a good program are refused', () => {
    const draw = random(SEED);
    const end = text.indexOf('M2');
    let refused = 0;
    const count = runs(300);
    for (let i = 0; i < count; i++) {
      const r = check(text.slice(0, Math.floor(draw() * end)));
      placed(r);
      if (r.faults.length > 0) refused++;
    }
    expect(refused).toBe(count);
  }, 300_000);

  it('every truncation of a small one is refused, with a place', () => {
    const small = leverProgram();
    const end = small.indexOf('\nM2');
    expect(checkPrograms([{ file: 'a.ngc', text: small }], leverJob()).faults).toEqual([]);
    let refused = 0;
    let seen = 0;
    // Alone it takes a millisecond; against the job, every so many in short runs.
    for (let i = 0; i < end; i++) {
      const whole = i % (FULL ? 1 : 211) === 0;
      if (!whole && !FULL && i % 3 !== 0) continue;
      const r = checkPrograms([{ file: 'a.ngc', text: small.slice(0, i) }], whole ? leverJob() : null);
      placed(r);
      seen++;
      if (r.faults.length > 0) refused++;
    }
    expect(seen).toBeGreaterThan(300);
    expect(refused).toBe(seen);
  }, 900_000);

  it('bytes changed by chance do not crash it', () => {
    const draw = random(SEED + 1);
    const small = leverProgram();
    let seen = 0;
    for (let i = 0; i < runs(600); i++) {
      // The small one is quick, the other has everything.
      const whole = i % 10 === 0 ? text : small;
      const at = Math.floor(draw() * whole.length);
      const changed = whole.slice(0, at) + String.fromCharCode(Math.floor(draw() * 256)) + whole.slice(at + 1);
      const r = checkPrograms([{ file: 'a.ngc', text: changed }], whole === small ? leverJob() : good.job);
      placed(r);
      seen += r.faults.length;
    }
    expect(seen).toBeGreaterThan(0);
  }, 300_000);

  it('files that are no programs are refused with a place', () => {
    const draw = random(SEED + 2);
    const bytes = Array.from({ length: 5000 }, () => String.fromCharCode(Math.floor(draw() * 256))).join('');
    const files = [
      '',
      '\n',
      '%',
      '%\n%',
      'M2',
      '\u0000'.repeat(1000),
      bytes,
      'G1 X1 '.repeat(200_000),
      '('.repeat(1_000_000),
      `X${'9'.repeat(1_000_000)}`,
      `#1=${'['.repeat(100_000)}`,
      `G21\nG1 X${'['.repeat(120)}1${']'.repeat(119)}\nM2`,
      `G21\n${'#'.repeat(250)}1\nM2`,
      `G21\nX[${'1+'.repeat(120)}1\nM2`,
      'G1 X1\r'.repeat(50_000),
      `(${'a'.repeat(2_000_000)}`,
      '%\n'.repeat(100_000),
      '/'.repeat(100_000),
    ];
    for (const file of files) {
      const started = performance.now();
      const r = check(file);
      placed(r);
      expect(r.faults.length, JSON.stringify(file.slice(0, 20))).toBeGreaterThan(0);
      expect(performance.now() - started).toBeLessThan(20_000);
    }
  }, 300_000);

  it('lengths beyond all sense end in bounded time', () => {
    for (const value of ['1e9', '999999999', '-999999', '0.0000001']) {
      const changed = text.replace(/X\d+\.\d+/, `X${value}`);
      const r = check(changed);
      placed(r);
      expect(r.faults.length).toBeGreaterThan(0);
    }
  }, 300_000);
});
