/** The stops and cycles of the plan as programs: written, and found without fault by the check. */
import { describe, expect, it } from 'vitest';
import { makeText, mustMake } from '../helpers.ts';
import { type RawJob, withHole } from './jobs.ts';

/** A small thin part, glued down, so that the holding is quickly reckoned. */
function small(change: (job: RawJob) => void): string {
  const raw = withHole({ tap: 'M3' }, (j) => {
    j.part.thickness = 2;
    j.part.outline.bosses = [
      { at: [0, 0], radius: 6 },
      { at: [22, 0], radius: 5 },
    ];
    j.stock = { size: [80, 40, 2], measured: 2 };
    j.hold = { by: 'glue', shear: 2, tension: 1, wetted: 0.6 };
    change(j);
  });
  return JSON.stringify(raw);
}

/** Tapped by hand, and stopped to measure. */
const byHand = mustMake(small((j) => (j.finish = { stopToMeasure: true })));
const faults = (made: ReturnType<typeof mustMake>) => made.report.faults.map((f) => `${f.code} ${f.found}`);

describe('tapping', () => {
  it('by hand: the spindle stands off over the hole at head room, the person is told, nothing turns', () => {
    const made = byHand;
    expect(faults(made)).toEqual([]);
    const lines = made.programs[0]!.text.split('\n');
    const from = lines.findIndex((l) => l.includes('tap by hand M3'));
    const stop = lines.indexOf('M0', from);
    const between = lines.slice(from, stop);
    expect(between.some((l) => /M3$/.test(l))).toBe(false);
    const at = made.job.places[0]!.at;
    expect(between.join(' ')).toContain(`X${at.x} Y${at.y}`);
    expect(between.filter((l) => l.startsWith('(MSG,')).join(' ')).toContain('hole 1 M3, through');
  });

  it('by the machine: G84 with one pitch a turn; refused where the post has none', () => {
    const text = small((j) => (j.machine = { tapping: 'machine' }));
    const made = mustMake(text);
    expect(faults(made)).toEqual([]);
    const lines = made.programs[0]!.text.split('\n');
    const cycle = lines.findIndex((l) => l.includes('G84'));
    const speed = Number(/^S(\d+) M3$/.exec(lines.slice(0, cycle).findLast((l) => l.startsWith('S'))!)![1]);
    // ISO 261: M3 coarse has a pitch of 0.5 mm.
    expect(Number(/F([\d.]+)/.exec(lines[cycle]!)![1]) / speed).toBeCloseTo(0.5, 9);
    const plain = makeText(text, { post: 'plain' });
    expect(plain.ok).toBe(false);
    expect(plain.problems.map((p) => p.code)).toContain('no-tapping-cycle');
  });
});

describe('measuring', () => {
  it('a stop between two finishing passes, spindle off, then the last pass to size', () => {
    const text = byHand.programs[0]!.text;
    const stop = text.indexOf('Across boss 1: 12.1 mm now');
    expect(stop).toBeGreaterThan(text.indexOf('to measure over'));
    const before = text.slice(0, stop).split('\n');
    expect(before.findLast((l) => /^(M5|S\d+ M3)$/.test(l))).toBe('M5');
  });
});
