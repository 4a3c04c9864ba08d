/** What a person is told of a faulty program: each cause once, every one with a line, and the report itself whole. */
import { describe, expect, it } from 'vitest';
import { toldOnce } from '../../src/base/once.ts';
import { checkPrograms } from '../../src/check/check.ts';
import { leverJob, leverProgram } from './lever.ts';

function faults(edit: (t: string) => string, job = leverJob()) {
  const text = leverProgram();
  expect(edit(text)).not.toBe(text);
  return checkPrograms([{ file: 'lever.ngc', text: edit(text) }], job).faults;
}

describe('one cause', () => {
  it('M4 is told once; the report names every block that it spoils', () => {
    const found = faults((t) => t.replaceAll('M3 S', 'M4 S'));
    expect(found.length).toBeGreaterThan(20);
    const told = toldOnce(found);
    expect(told.map((f) => f.code)).toEqual(['spindle-reverse']);
    expect(told[0]!.found).toMatch(/and \d+ more, the next at line \d+\)$/);
  });

  it('a feed too high is told once for the machine and once for the cutter', () => {
    const codes = toldOnce(faults((t) => t.replaceAll('F120', 'F900'))).map((f) => f.code);
    expect(codes.sort()).toEqual(['feed-above-machine', 'feed-too-high']);
  });
});

describe('every fault has a line', () => {
  const edits: [string, (t: string) => string][] = [
    ['no cut at the edge', (t) => t.replace(/T1 M6[\s\S]*M2/, 'M2')],
    ['no hole', (t) => t.replace(/\nG98 G83.*/, '')],
    ['too far along X', (t) => t.replace('G0 Z20\nM5', 'G0 Z20\nG0 X400\nM5')],
    ['units not stated', (t) => t.replace('G21 ', '')],
  ];
  it.each(edits)('%s', (_, edit) => {
    const found = faults(edit);
    expect(found.length).toBeGreaterThan(0);
    for (const f of found) expect(f.place.line, f.code).toBeGreaterThan(0);
  });
});
