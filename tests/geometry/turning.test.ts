import { describe, expect, it } from 'vitest';
import { loopLength } from '../../src/geometry/measure/loop.ts';
import { arc, line } from '../../src/geometry/measure/segment.ts';
import { turningAbout } from '../../src/geometry/measure/turning.ts';
import type { Loop } from '../../src/geometry/types.ts';

const pt = (x: number, y: number) => ({ x, y });
const SQUARE: Loop = [
  line(pt(0, 0), pt(10, 0)),
  line(pt(10, 0), pt(10, 10)),
  line(pt(10, 10), pt(0, 10)),
  line(pt(0, 10), pt(0, 0)),
];
/** A slot shape: straight sides of 20, round ends of radius 2. */
const ROUND: Loop = [
  line(pt(0, -2), pt(20, -2)),
  arc(pt(20, 0), 2, -Math.PI / 2, Math.PI),
  line(pt(20, 2), pt(0, 2)),
  arc(pt(0, 0), 2, Math.PI / 2, Math.PI),
];

describe('turning of an outline about a place', () => {
  it('corners within reach count whole, over the start as well', () => {
    expect(turningAbout(SQUARE, 5, 4)).toBe(0);
    expect(turningAbout(SQUARE, 9, 2)).toBeCloseTo(Math.PI / 2, 12);
    expect(turningAbout(SQUARE, 39.5, 1)).toBeCloseTo(Math.PI / 2, 12);
    expect(turningAbout(SQUARE, 0.5, 1)).toBeCloseTo(Math.PI / 2, 12);
    expect(turningAbout(SQUARE, 5, 20)).toBeGreaterThan(2 * Math.PI - 1e-9);
  });

  it('arcs count by the length within reach: reach over radius in their middle, half at their end', () => {
    const middle = 20 + Math.PI;
    expect(turningAbout(ROUND, middle, 1)).toBeCloseTo(1, 12);
    expect(turningAbout(ROUND, 20, 1)).toBeCloseTo(0.5, 12);
    expect(turningAbout(ROUND, loopLength(ROUND), 1)).toBeCloseTo(0.5, 12);
    expect(turningAbout(ROUND, middle, 10)).toBeCloseTo(Math.PI, 12);
  });

  it('hollows count against it', () => {
    const hollow: Loop = [arc(pt(0, 0), 3, Math.PI, -Math.PI), line(pt(3, 0), pt(-3, 0))];
    expect(turningAbout(hollow, (Math.PI * 3) / 2, 1)).toBeCloseTo(-2 / 3, 12);
  });
});
