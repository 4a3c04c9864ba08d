/** How narrow a tab is found to be: whatever came after the narrowest pair, and wherever else its strokes ran. */
import { describe, expect, it } from 'vitest';
import type { HeadTab } from '../../../src/check/program/head.ts';
import { type Stroke, toolOf } from '../../../src/check/strokes/stroke.ts';
import { besideOwn, TabGauge } from '../../../src/check/tabs/tabs.ts';
import { wantedOf } from '../../../src/check/wanted/wanted.ts';
import { arc, line, segmentBox } from '../../../src/geometry/measure/segment.ts';
import type { Point, Segment } from '../../../src/geometry/types.ts';
import { AT, BIG, cutter, leverJob, T } from '../lever.ts';

const mill = toolOf(cutter(1, 'end mill', 3));
/** Outwards along Y. */
const tab: HeadTab = {
  ...{ number: 1, part: 0, at: { x: 0, y: 0 }, directionDeg: 90 },
  ...{ width: 2, height: 0.8, footprint: 8, block: 1 },
};

function stroke(path: Segment): Stroke {
  const state = { feed: 100, speed: 5000, turning: true, cycle: null, step: null };
  const rest = { index: 0, program: 0, block: 1, rapid: false, ...state };
  return { ...rest, path, box: segmentBox(path), za: -T, zb: -T, low: -T, tool: mill };
}

const cut = (a: Point, b: Point) => stroke(line(a, b));

function waistOf(strokes: readonly Stroke[]): number {
  const gauge = new TabGauge(tab, T);
  for (const s of strokes) gauge.add(s);
  return gauge.measured().waist;
}

/** Both flanks so far apart. */
const flanks = (apart: number) => {
  const x = apart / 2 + mill.shape.radius;
  return [cut({ x: -9, y: 1.5 }, { x: -x, y: 1.5 }), cut({ x, y: 1.5 }, { x: 9, y: 1.5 })];
};

describe('the waist of a tab', () => {
  it('is found in strokes that come from far outside and end in it', () => {
    const from = (x: number) => cut({ x, y: 80 }, { x, y: 2 });
    expect(waistOf([...flanks(2), from(-1.2), from(1.2)])).toBeLessThan(0);
    // What ends outside the band says nothing of it.
    expect(waistOf([...flanks(2), cut({ x: 0, y: 80 }, { x: 0, y: 30 })])).toBeCloseTo(2, 9);
  });

  it('is found in long arcs as in lines', () => {
    // From far above along a circle that passes the middle line 2 mm out.
    const through = stroke(arc({ x: 40, y: 2 }, 40, Math.PI / 2, Math.PI));
    expect(waistOf([...flanks(2), through])).toBeLessThan(0);
  });

  it('is remembered, however many other cuts follow', () => {
    const wide = Array.from({ length: 2400 }, (_, i) => flanks(0.5 + i / 1000)).flat();
    expect(waistOf([...flanks(0.5), ...wide])).toBeCloseTo(0.5, 9);
    expect(waistOf([...wide, ...flanks(0.5)])).toBeCloseTo(0.5, 9);
  });

  it('keeps what a later cut past the middle makes the narrowest', () => {
    const [left] = flanks(6);
    const x = mill.shape.radius - 2.9;
    const past = cut({ x, y: 1.5 }, { x: 9, y: 1.5 });
    const many = Array.from({ length: 2400 }, (_, i) => flanks(2 + i / 1000)).flat();
    const without = waistOf([left!, past]);
    expect(waistOf([left!, ...many, past])).toBeLessThanOrEqual(without);
  });
});

describe('strokes beside a tab of one part among others', () => {
  const job = leverJob();
  const place = job.places[0]!;
  const { parts } = wantedOf({ ...job, places: [place, { ...place, at: { x: AT.x, y: AT.y + 24 } }] });
  const own: HeadTab = { ...tab, at: { x: AT.x, y: AT.y + BIG } };

  it('count where they are nearer to it, wherever else they run', () => {
    // Along the neighbour's edge, then straight to this part.
    const s = cut({ x: AT.x + 1, y: AT.y + 24 - BIG - 0.1 }, { x: AT.x, y: AT.y + BIG + 1.5 });
    const pieces = besideOwn(own, s, parts);
    expect(pieces).toHaveLength(1);
    expect(pieces[0]!.path.b).toEqual(s.path.b);
    expect(pieces[0]!.path.a.y).toBeCloseTo(AT.y + 12, 0);
  });

  it('and not where they run round the neighbour', () => {
    const y = AT.y + 24 - BIG - 1.5;
    expect(besideOwn(own, cut({ x: AT.x - 5, y }, { x: AT.x + 5, y }), parts)).toEqual([]);
  });
});
