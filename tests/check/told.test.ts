/** What a person is told of a faulty program: each cause once, every one with a line, and the report itself whole. */
import { describe, expect, it } from 'vitest';
import { toldOnce } from '../../src/base/once.ts';
import { checkPrograms } from '../../src/check/check.ts';
import { hullLoop, leverJob, leverProgram } from './lever.ts';

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
    ['no zero in the head', (t) => t.replace(/\(ZERO.*\n/, '')],
    ['no stock in the head', (t) => t.replace(/\(STOCK.*\n/, '')],
    ['no part in the head', (t) => t.replace(/\(PART.*\n/, '')],
    ['no holding in the head', (t) => t.replace(/\(HOLD.*\n/, '')],
    ['no head at all', (t) => t.replace(/\((ZERO|STOCK|PART|CUTTER|HOLD|TAB).*\n/g, '')],
  ];
  it.each(edits)('%s', (_, edit) => {
    const found = faults(edit);
    expect(found.length).toBeGreaterThan(0);
    for (const f of found) expect(f.place.line, f.code).toBeGreaterThan(0);
  });
});

describe('an outline that is not what it was made from', () => {
  it('is told at the line of the head that places the part', () => {
    const job = leverJob();
    const wide = { ...job.part.outline, loop: hullLoop(0.01) };
    const changed = { ...job, part: { ...job.part, outline: wide } };
    const report = checkPrograms([{ file: 'a.ngc', text: leverProgram() }], changed);
    const found = report.faults.find((f) => f.code === 'outline-differs')!;
    expect(leverProgram().split('\n')[found.place.line! - 1]).toMatch(/^\(PART 1 /);
    expect(found.found).toMatch(/0\.0100 mm off the circles and tangents/);
  });
});
