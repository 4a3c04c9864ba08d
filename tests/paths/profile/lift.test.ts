import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { toDeg } from '../../../src/base/units.ts';
import { segmentGap } from '../../../src/geometry/measure/distance.ts';
import { chainBetween, loopLength, pointAlong } from '../../../src/geometry/measure/loop.ts';
import { dist, rot90, scale } from '../../../src/geometry/measure/point.ts';
import { heightAt } from '../../../src/paths/along/slope.ts';
import { gapsBetween, liftSlope, liftsOn } from '../../../src/paths/profile/lift.ts';
import { offsetLoop } from '../../geometry/oracle.ts';
import { SEED } from '../../runs.ts';
import { circle, rectangle } from '../helpers.ts';

const SHAPE = { diameter: 3, bottom: -4.2, thickness: 4, upDeg: 45, downDeg: 30, leaves: 0 };

function pathRound(loop: Parameters<typeof offsetLoop>[0], d: number) {
  const made = offsetLoop(loop, d);
  if (made.kind !== 'regions') throw new Error('no path');
  return made.regions[0]!.outer;
}

function tabAt(loop: Parameters<typeof offsetLoop>[0], share: number, width: number) {
  const spot = pointAlong(loop, share * loopLength(loop))!;
  const out = scale(rot90(spot.direction), -1);
  return {
    part: 0,
    at: spot.point,
    directionDeg: toDeg(Math.atan2(out.y, out.x)),
    width,
    height: 0.8,
    cutHeight: 0.8,
    footprint: 0,
  };
}

describe('lifts over tabs', () => {
  it('leave a waist of the wanted width between the discs, on straight and on round edges', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(rectangle(0, 0, 40, 20), circle(0, 0, 9)),
        fc.double({ min: 0, max: 0.999, noNaN: true }),
        fc.double({ min: 0.5, max: 3, noNaN: true }),
        (edge, share, width) => {
          const path = pathRound(edge, 1.5);
          const tab = tabAt(edge, share, width);
          const found = liftsOn(path, 1.5, [tab], (t) => t.cutHeight, SHAPE);
          if (found.kind !== 'lifts') throw new Error('no room on a large edge');
          const [lift] = found.lifts;
          const period = loopLength(path);
          // What runs low on both sides, up to a third of the way round.
          const before = chainBetween(path, lift!.from - period / 3, lift!.from);
          const after = chainBetween(path, lift!.to, lift!.to + period / 3);
          const gap = Math.min(...before.flatMap((a) => after.map((b) => segmentGap(a, b).distance)));
          expect(gap - SHAPE.diameter).toBeGreaterThan(width - 1e-5);
          expect(dist(pointAlong(path, lift!.from)!.point, pointAlong(path, lift!.to)!.point)).toBeCloseTo(
            width + 3,
            4,
          );
        },
      ),
      { seed: SEED, numRuns: 200 },
    );
  });

  it('heights stay at the top over the waist and ramp no steeper than allowed', () => {
    const edge = rectangle(0, 0, 40, 20);
    const path = pathRound(edge, 1.5);
    const found = liftsOn(path, 1.5, [tabAt(edge, 0.2, 2)], (t) => t.cutHeight, SHAPE);
    if (found.kind !== 'lifts') throw new Error('no room');
    const lift = found.lifts[0]!;
    const period = loopLength(path);
    const start = lift.from - 12;
    const slope = liftSlope(found.lifts, period, period, start, -4.2);
    for (let s = lift.from; s <= lift.to; s += 0.05) expect(heightAt(slope, s - start)).toBeCloseTo(-3.2, 9);
    let steepUp = 0;
    let steepDown = 0;
    for (let s = 0; s < period - 0.01; s += 0.01) {
      const rise = (heightAt(slope, s + 0.01) - heightAt(slope, s)) / 0.01;
      steepUp = Math.max(steepUp, rise);
      steepDown = Math.max(steepDown, -rise);
    }
    expect(steepUp).toBeCloseTo(1, 6);
    expect(steepDown).toBeCloseTo(Math.tan(Math.PI / 6), 6);
  });

  it('a tab wider than the part has no room', () => {
    const edge = circle(0, 0, 3);
    const found = liftsOn(pathRound(edge, 1.5), 1.5, [tabAt(edge, 0, 8)], (t) => t.cutHeight, SHAPE);
    expect(found.kind).toBe('no room');
  });

  it('gaps between lifts and the lifts make up the whole way round', () => {
    const edge = rectangle(0, 0, 40, 20);
    const path = pathRound(edge, 1.5);
    const tabs = [0.1, 0.45, 0.8].map((share) => tabAt(edge, share, 2));
    const found = liftsOn(path, 1.5, tabs, (t) => t.cutHeight, SHAPE);
    if (found.kind !== 'lifts') throw new Error('no room');
    const gaps = gapsBetween(path, found.lifts).reduce((sum, g) => sum + g.to - g.from, 0);
    const lifted = found.lifts.reduce((sum, l) => sum + l.to - l.from + l.up + l.down, 0);
    expect(gaps + lifted).toBeCloseTo(loopLength(path), 6);
  });
});
