/**
 * Feeds against the tables, from figures worked out by hand. Brass of the table, carbide, 3 mm, two flutes: start 0.007 x 3 = 0.021 mm
 * a tooth (common practice, physics 2.3; S7 publishes 0.025), so 0.0525 mm at 2.5 times, half of it down a ramp.
 */
import { describe, expect, it } from 'vitest';
import type { Removal } from '../../../src/check/field/removal.ts';
import { Findings } from '../../../src/check/report/findings.ts';
import { checkChips } from '../../../src/check/strength/chip.ts';
import { type Stroke, toolOf } from '../../../src/check/strokes/stroke.ts';
import { wantedOf } from '../../../src/check/wanted/wanted.ts';
import { arc, line, segmentBox } from '../../../src/geometry/measure/segment.ts';
import type { Segment } from '../../../src/geometry/types.ts';
import { material } from '../../../src/trade/materials/materials.ts';
import { AT, cutter, leverJob } from '../lever.ts';
import { spooled } from '../spooled.ts';

const job = leverJob();
const MILL = toolOf(job.cutters[0]!);
const SPEED = 1000;
const LIMIT = 0.0525;

function stroke(path: Segment, tooth: number, more: Partial<Stroke> = {}): Stroke {
  const rest = {
    index: 0,
    program: 0,
    block: 1,
    rapid: false,
    path,
    box: segmentBox(path),
    za: -1,
    zb: -1,
    low: -1,
    tool: MILL,
  };
  const state = { feed: tooth * 2 * SPEED, speed: SPEED, turning: true, cycle: null, step: null };
  return { ...rest, ...state, ...more };
}

/** Volume removed and depth below the stock touched, by stroke. */
function refused(strokes: readonly Stroke[], cut: readonly (readonly [number, number])[] = []): boolean {
  const of = (s: Stroke) => {
    const [volume, depth] = cut[s.index] ?? [0, -Infinity];
    return { volume, touched: s.low + depth, under: Infinity };
  };
  const removal = { of, field: { cell: 0.05 } } as unknown as Removal;
  const out = new Findings(['a.ngc']);
  checkChips({ strokes: spooled(strokes), wanted: wantedOf(job), job }, material('CuZn39Pb3'), removal, out);
  return out.faulty('feed-too-high');
}

const STRAIGHT = line({ x: 10, y: 3 }, { x: 60, y: 3 });

describe('feed a tooth', () => {
  it('is bounded on a straight path whether the field sees a cut or not', () => {
    expect(refused([stroke(STRAIGHT, LIMIT * 0.99)], [[10, 1]])).toBe(false);
    expect(refused([stroke(STRAIGHT, LIMIT * 1.01)], [[10, 1]])).toBe(true);
    // Where nothing is cut, half as much again: a way across, but no spring pass at ten times its feed.
    expect(refused([stroke(STRAIGHT, LIMIT * 1.49)])).toBe(false);
    expect(refused([stroke(STRAIGHT, LIMIT * 1.52)])).toBe(true);
  });

  it('counts for nothing above the stock, on rapids and with the spindle standing', () => {
    const fast = stroke(STRAIGHT, 1);
    expect(refused([{ ...fast, low: 0.5, za: 0.5, zb: 0.5 }])).toBe(false);
    expect(refused([{ ...fast, rapid: true, feed: 0 }])).toBe(false);
    expect(refused([{ ...fast, speed: 0 }])).toBe(false);
  });

  it('is halved down a ramp (catalogue: at most half), and 0.3 of it straight down', () => {
    const ramp = (tooth: number) => [stroke(STRAIGHT, tooth, { za: 0 })];
    expect(refused(ramp(LIMIT * 0.49), [[10, 1]])).toBe(false);
    expect(refused(ramp(LIMIT * 0.51), [[10, 1]])).toBe(true);
    const p = { x: 30, y: 3 };
    const down = (tooth: number) => [stroke(line(p, p), tooth, { za: 0 })];
    const whole: [number, number][] = [[Math.PI * 1.5 ** 2, 1]];
    expect(refused(down(LIMIT * 0.29), whole)).toBe(false);
    expect(refused(down(LIMIT * 0.31), whole)).toBe(true);
    // Beside the end there is nothing: the side takes a sliver.
    expect(refused(down(LIMIT * 0.31), [[0.2, 1]])).toBe(false);
  });

  it('is the faster at the wall inside a curve: 5 mm hole, 3 mm cutter, thin cut', () => {
    // Published rule for circles: centre feed = edge feed x (5 - 3) / 5; 0.1 mm wide, the thickest chip lies at radius 2.4.
    const round = arc(AT, 1, 0, Math.PI);
    const cut: [number, number][] = [[Math.PI * 0.1 * 1, 1]];
    const edge = (1.5 * LIMIT) / 2.4;
    expect(refused([stroke(round, edge * 0.98)], cut)).toBe(false);
    expect(refused([stroke(round, edge * 1.02)], cut)).toBe(true);
    // As a full cut its thickest chip is ahead of the centre.
    expect(refused([stroke(round, edge * 1.02)], [[Math.PI * 3, 1]])).toBe(false);
    // The same on chords, as a post without arcs writes it.
    const at = (i: number) => ({ x: AT.x + Math.cos(i / 4), y: AT.y + Math.sin(i / 4) });
    const chords = (tooth: number) => Array.from({ length: 6 }, (_, i) => stroke(line(at(i), at(i + 1)), tooth));
    const thin: [number, number][] = Array.from({ length: 6 }, () => [0.1 * 0.25, 1]);
    expect(refused(chords(edge * 0.96), thin)).toBe(false);
    expect(refused(chords(edge * 1.04), thin)).toBe(true);
  });

  it('may be half as much again round the outside of a corner', () => {
    const round = arc(AT, 6 + 1.5, 2, 1);
    expect(refused([stroke(round, LIMIT * 1.49)])).toBe(false);
    expect(refused([stroke(round, LIMIT * 1.52)])).toBe(true);
  });

  it('of a cone is small, however wide the cone: 0.03 mm at most is usual, 2.5 times that the bound', () => {
    const tool = toolOf(cutter(9, 'chamfer cutter', 12));
    expect(refused([stroke(STRAIGHT, 0.074, { tool })], [[5, 1]])).toBe(false);
    expect(refused([stroke(STRAIGHT, 0.076, { tool })], [[5, 1]])).toBe(true);
  });
});

describe('feed a turn', () => {
  it('of a drill is bounded at 2.5 times the rule: 5 mm, 0.02 of it a turn', () => {
    const p = { x: 22, y: 15 };
    const drill = (turn: number, kind: 'drill' | 'reamer') =>
      stroke(line(p, p), 0, { za: 0, zb: -3, low: -3, tool: toolOf(cutter(2, kind, 5)), feed: turn * SPEED });
    const whole: [number, number][] = [[50, 3]];
    const most = 2.5 * material('CuZn39Pb3').drillFeedPerDiameter.value * 5;
    expect(refused([drill(most * 0.99, 'drill')], whole)).toBe(false);
    expect(refused([drill(most * 1.01, 'drill')], whole)).toBe(true);
    expect(refused([drill(most * 2.99, 'reamer')], whole)).toBe(false);
    expect(refused([drill(most * 3.01, 'reamer')], whole)).toBe(true);
  });
});
