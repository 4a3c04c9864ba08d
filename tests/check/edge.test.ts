/** Programs of a part on edge against the job: the good ones pass, every planted fault is refused. */
import { describe, expect, it } from 'vitest';
import { checkPrograms } from '../../src/check/check.ts';
import { readHead } from '../../src/check/program/head.ts';
import { edgeJob } from '../edge-job.ts';
import { mustMake } from '../helpers.ts';

const { programs, job } = mustMake(edgeJob());

type Spoil = (text: string) => string;

function codes(spoil: Spoil, which = 1): string[] {
  const spoiled = programs.map((p, i) => {
    if (i !== which) return p;
    const text = spoil(p.text);
    expect(text).not.toBe(p.text);
    return { ...p, text };
  });
  return checkPrograms(spoiled, job).faults.map((f) => f.code);
}

describe('parts on edge', () => {
  it('good programs pass, together and each set-up by itself', () => {
    const all = checkPrograms(programs, job);
    expect(all.faults).toEqual([]);
    expect(all.notProven.map((d) => d.what)).toEqual([
      'edge hole 1: what holds the part',
      'edge hole 2: what holds the part',
    ]);
    const plate = checkPrograms([programs[0]!], job);
    expect(plate.faults).toEqual([]);
    expect(plate.notProven).toContainEqual({ what: 'edge hole 1', why: 'no program for it was given' });
    const [first, second] = [programs[1]!, programs[2]!].map((p) => checkPrograms([p], job));
    expect(first!.faults).toEqual([]);
    expect(second!.faults).toEqual([]);
  });

  it('must run after the plate', () => {
    const turned = [programs[1]!, programs[0]!, programs[2]!];
    expect(checkPrograms(turned, job).faults.map((f) => f.code)).toEqual(['program-order']);
  });

  it('says a thing once, though each set-up proves it', () => {
    const { proven } = checkPrograms(programs, job);
    expect(new Set(proven.map((p) => p.what)).size).toBe(proven.length);
  });

  it('reads the head', () => {
    const comment = { block: 9, text: 'HOLD jaws EDGE HOLE 2 BOSS 1 DIRECTION -90.5' } as never;
    expect(readHead([comment], 'mm')).toMatchObject({ edge: { hole: 1, boss: 0, directionDeg: -90.5 }, unread: [] });
    const cut = { block: 9, text: 'HOLD jaws EDGE HOLE 2' } as never;
    expect(readHead([cut], 'mm')).toMatchObject({ edge: null, unread: [{ block: 9 }] });
  });

  const drilled = /(G83 X0 Y0 Z)(-[\d.]+)/;
  const deeper = (by: number): Spoil => {
    return (t) => t.replace(drilled, (_, start, z) => `${start}${(Number(z) + by).toFixed(4)}`);
  };

  it.each<[string, Spoil, RegExp]>([
    ['the hole 0.02 mm beside its place', (t) => t.replace('G83 X0 Y0', 'G83 X0.02 Y0'), /^hole-place|gouge/],
    ['the hole beside the middle of the thickness', (t) => t.replace('G83 X0 Y0', 'G83 X0 Y0.05'), /^hole-place|gouge/],
    ['the hole left shallow', deeper(2.6), /^hole-uncut/],
    ['no stop to stand the part up', (t) => t.replace(/^M0\n/gm, ''), /^(stop-missing|length-unknown)/],
    ['another boss up in the message', (t) => t.replace(/boss \d+ up/, 'boss 7 up'), /^head-disagrees/],
    [
      'the upper face to the back',
      (t) => t.replace('Upper face to the front', 'Upper face to the back'),
      /^head-disagrees/,
    ],
    ['another Z on the crown', (t) => t.replace(/Z is 0 there/, 'Z is 5 there'), /^touch-off/],
    ['a feed move sideways in the metal', (t) => t.replace('G80\n', 'G80\nG1 Z-1 F100\nX1\nZ2\n'), /^gouge/],
    [
      'a rapid to the hole too low',
      (t) => t.replace('G0 Z5\nG0 X0 Y0\n', 'G0 Z-1\nG0 X0 Y0\n'),
      /position-unknown|rapid/,
    ],
    [
      'a drill down beside the part into a jaw',
      (t) => t.replace('G80\n', 'G80\nG0 Y15\nG1 Z-10 F100\nZ2\nG0 Y0\n'),
      /^clamp-hit/,
    ],
    ['another boss', (t) => t.replace('BOSS 1', 'BOSS 2'), /^head-disagrees/],
    ['another direction', (t) => t.replace('DIRECTION 110', 'DIRECTION 100'), /^head-disagrees/],
    ['a hole that the job has not', (t) => t.replace('EDGE HOLE 1', 'EDGE HOLE 4'), /^head-disagrees/],
    ['another block of stock', (t) => t.replace('STOCK X-7', 'STOCK X-8'), /^head-disagrees/],
    [
      'another drill',
      (t) => t.replace('T19 M6', 'T20 M6').replace('CUTTER 19 drill D1.6', 'CUTTER 20 drill D1.7'),
      /gouge|uncut|head/,
    ],
    [
      'the drill not started',
      (t) => t.replace(/S5000 M3\nG4 P2\nG0 Z2\nG98 G83/, 'G0 Z2\nG98 G83'),
      /^spindle-off|no-speed|spindle/,
    ],
    [
      'ten times the feed',
      (t) => t.replace(/(G83 .* F)(\d+)/, (_, s, f) => `${s}${10 * Number(f)}`),
      /feed|power|cutter-breaks/,
    ],
  ])('refuses %s', (_, spoil, wanted) => {
    const told = codes(spoil);
    expect(told.filter((c) => wanted.test(c)).length, told.join(', ')).toBeGreaterThan(0);
  });

  it('refuses a cutter whose holder meets the part where it is higher', () => {
    const short = {
      ...job,
      cutters: job.cutters.map((c) => ({ ...c, stickOut: 4, holder: { ...c.holder, diameter: 80 } })),
    };
    expect(checkPrograms([programs[2]!], short).faults.map((f) => f.code)).toContain('holder-hits');
  });
});
