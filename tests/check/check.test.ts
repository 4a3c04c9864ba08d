import { describe, expect, it } from 'vitest';
import { describeProblem } from '../../src/base/problem.ts';
import { checkPrograms } from '../../src/check/check.ts';
import type { Report } from '../../src/check/report.ts';
import { type Knobs, leverJob, leverProgram } from './lever.ts';

function check(k: Knobs, edit: (text: string) => string = (t) => t, job = leverJob()): Report {
  return checkPrograms([{ file: 'lever.ngc', text: edit(leverProgram(k)) }], job);
}

function codes(r: Report): string[] {
  return [...new Set(r.faults.map((f) => f.code))].sort();
}

describe('a good program', () => {
  it('passes without a fault', () => {
    const r = check({});
    expect(r.faults.map(describeProblem)).toEqual([]);
    expect(r.notProven).toEqual([]);
    expect(r.proven.map((p) => p.what)).toEqual(expect.arrayContaining(['gouge', 'rapids', 'edge reached', 'tabs']));
  });
});

describe('planted faults', () => {
  const planted: [string, Knobs, (t: string) => string, string[]][] = [
    ['profile 0.006 too near', { offset: -0.0062 }, (t) => t, ['gouge']],
    ['profile 0.012 too far', { offset: 0.012 }, (t) => t, ['edge-uncut']],
    ['profile 0.02 too shallow', { bottom: -3.98 }, (t) => t, ['edge-uncut']],
    ['tabs too low', { tabHeight: 0.8 }, (t) => t.replaceAll('Z-3.2', 'Z-3.25'), ['tab-height']],
    ['tabs too narrow', { cutWidth: 1.9 }, (t) => t, ['tab-width']],
    ['drill not through with its full diameter', { drillDepth: -5.4 }, (t) => t, ['hole-uncut']],
    ['drill 0.004 off its place', { drillAt: { x: 22.004, y: 15 } }, (t) => t, ['hole-place']],
    ['no drilling', { withDrill: false }, (t) => t, ['hole-uncut']],
    ['no profile', { withProfile: false }, (t) => t, ['edge-uncut', 'tab-height']],
    ['spindle never started', {}, (t) => t.replaceAll('M3 S4800', 'S4800'), ['spindle-off']],
    ['spindle backwards', {}, (t) => t.replaceAll('M3 S4800', 'M4 S4800'), ['spindle-reverse']],
    ['feed above the machine', { feed: 900 }, (t) => t, ['feed-above-machine']],
    ['spindle running at the change', {}, (t) => t.replace('M5\nT1 M6', 'T1 M6'), ['stop-spindle-on']],
    ['a word misspelt', {}, (t) => t.replace('G98 G83', 'G98 G83.5'), ['rs274-22']],
    ['a head of another stock', {}, (t) => t.replace('TO X75', 'TO X70'), ['head-disagrees']],
    ['one tab less than asked', {}, (t) => t.replace(/\(TAB 2.*\n/, ''), ['edge-uncut', 'head-disagrees']],
    [
      'a footprint as long as the edge',
      {},
      (t) =>
        t
          .replaceAll(/FOOTPRINT \d+/g, 'FOOTPRINT 150')
          .replaceAll('Z-3', 'Z-2')
          .replaceAll('Z-4.1', 'Z-2')
          .replaceAll('Z-2.2', 'Z-3.2'),
      ['edge-uncut'],
    ],
    ['a footprint stated too short', {}, (t) => t.replaceAll('FOOTPRINT 5', 'FOOTPRINT 3.5'), ['tab-footprint']],
    ['units not stated', {}, (t) => t.replace('G21 ', ''), ['mode-not-stated']],
    ['G90 not stated', {}, (t) => t.replace('G90 ', ''), ['mode-not-stated']],
    ['a rapid through the stock', {}, (t) => t.replace('G1 Z0 F120\nG1', 'G1 Z0 F120\nG0'), ['rapid-in-stock']],
  ];
  it.each(planted)('%s', (_name, knobs, edit, expected) => {
    const text = leverProgram(knobs);
    const edited = edit(text);
    if (Object.keys(knobs).length === 0) expect(edited).not.toBe(text);
    const r = check(knobs, edit);
    expect(codes(r)).toEqual(expect.arrayContaining(expected));
    for (const f of r.faults) {
      expect(f.found).not.toBe('');
      expect(f.wanted).not.toBe('');
      expect(f.remedy).not.toBe('');
    }
  });

  it('under G64 exactness is not proven', () => {
    expect(check({}).notProven).toEqual([]);
    expect(check({}, (t) => t.replace('G61', 'G64')).notProven.map((d) => d.what)).toEqual(['exactness']);
  });

  it('where neither G61 nor G64 is stated, exactness hangs on the machine, and is not told as G64', () => {
    const why = (mode: string) => check({}, (t) => t.replace('G61', mode)).notProven.map((d) => d.why);
    expect(why('')).toEqual([expect.stringMatching(/^neither G61 nor G64 is stated/)]);
    expect(why('G64')).toEqual([expect.stringMatching(/^G64 is in force/)]);
  });

  it('limits hold on both sides', () => {
    expect(codes(check({ offset: -0.0045 }))).toEqual([]);
    expect(codes(check({ offset: 0.0095 }))).toEqual([]);
    expect(codes(check({ drillAt: { x: 22.0028, y: 15 } }))).toEqual([]);
  });
});
