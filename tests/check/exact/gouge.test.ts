import { describe, expect, it } from 'vitest';
import { Gauge } from '../../../src/check/exact/gouge.ts';
import { type Stroke, toolOf } from '../../../src/check/strokes/stroke.ts';
import { wantedOf } from '../../../src/check/wanted/wanted.ts';
import { arc, line, pointAt, segmentBox } from '../../../src/geometry/measure/segment.ts';
import type { Point, Segment } from '../../../src/geometry/types.ts';
import type { Cutter, Job } from '../../../src/part/part.ts';
import { random, runs, SEED } from '../../runs.ts';
import { AT, cutter, leverJob, T } from '../lever.ts';

const hole = leverJob().part.holes[0]!;

/** A lever with everything on it: chamfer, through hole, blind hole, countersunk hole and a pocket. */
function richJob(): Job {
  return leverJob(
    { places: [{ at: AT, turn: 0.3, mirror: true }] },
    {
      chamfer: 0.3,
      holes: [
        hole,
        { ...hole, index: 1, at: { x: 32, y: 0 }, diameter: 3, depth: 2 },
        { ...hole, index: 2, at: { x: 24, y: 0 }, diameter: 2, countersink: { diameter: 4, angle: 90 } },
      ],
      pockets: [
        {
          index: 0,
          depth: 1.5,
          islands: [],
          open: [],
          outline: {
            loop: [],
            inner: [],
            source: { kind: 'slot', from: { x: 10, y: 0 }, to: { x: 17, y: 0 }, width: 5 },
          },
        },
      ],
    },
  );
}

/** The wanted solid by plain formulas in the part's own axes: distance to the hull by its convex function, no tangents. */
function solid(p: Point, z: number): boolean {
  if (z > 0 || z < -T) return false;
  const inset = Math.max(0, 0.3 + z);
  if (hullDistance(p) > -inset) return false;
  if (Math.hypot(p.x, p.y) < 2.5 + inset) return false;
  if (Math.hypot(p.x - 32, p.y) < 1.5 + inset && z > -2) return false;
  if (Math.hypot(p.x - 24, p.y) < Math.max(1, 2 + z)) return false;
  const along = Math.max(10, Math.min(17, p.x));
  return !(z > -1.5 && Math.hypot(p.x - along, p.y) < 2.5);
}

function hullDistance(p: Point): number {
  const f = (t: number) => Math.hypot(p.x - 32 * t, p.y) - 6 + 2 * t;
  let lo = 0;
  let hi = 1;
  for (let i = 0; i < 36; i++) {
    const u = lo + (hi - lo) / 3;
    const v = hi - (hi - lo) / 3;
    if (f(u) < f(v)) hi = v;
    else lo = u;
  }
  return f((lo + hi) / 2);
}

function toPart(p: Point): Point {
  const x = p.x - AT.x;
  const y = p.y - AT.y;
  return { x: -(x * Math.cos(0.3) + y * Math.sin(0.3)), y: -x * Math.sin(0.3) + y * Math.cos(0.3) };
}

function toProgram(p: Point): Point {
  return { x: AT.x - p.x * Math.cos(0.3) - p.y * Math.sin(0.3), y: AT.y - p.x * Math.sin(0.3) + p.y * Math.cos(0.3) };
}

/** Whether a point of the cutter, `shrink` inside its surface, lies in the solid: rings at heights, at points of the path. */
function bruteHit(path: Segment, za: number, zb: number, c: Cutter, shrink: number): boolean {
  const { shape } = toolOf(c);
  const steps = 24;
  for (let i = 0; i <= steps; i++) {
    const at = pointAt(path, i / steps);
    const tip = za + ((zb - za) * i) / steps + shrink;
    for (const h of [0.001, 0.2, 0.5, 1, 1.6, 2.4, 3.2, 4]) {
      const z = tip + h;
      if (z > 0) break;
      const r = shape.at(h) - shrink;
      if (r <= 0) continue;
      for (let k = 0; k < 36; k++) {
        const p = { x: at.x + r * Math.cos((k * Math.PI) / 18), y: at.y + r * Math.sin((k * Math.PI) / 18) };
        if (solid(toPart(p), z)) return true;
      }
    }
  }
  return false;
}

function stroke(path: Segment, za: number, zb: number, c: Cutter): Stroke {
  const tool = toolOf(c);
  const state = { feed: 100, speed: 1000, turning: true, cycle: null, step: null };
  const rest = { index: 0, program: 0, block: 1, rapid: false, ...state };
  return { ...rest, path, box: segmentBox(path), za, zb, low: Math.min(za, zb), tool };
}

describe('gouge against brute force', () => {
  const wanted = wantedOf(richJob());
  const cutters = [
    cutter(1, 'end mill', 3),
    cutter(2, 'ball-nosed end mill', 3),
    cutter(3, 'chamfer cutter', 6),
    cutter(4, 'end mill', 2, { cornerRadius: 0.5 }),
    cutter(5, 'drill', 2),
  ];
  const SHRINK = 0.03;

  it('what sampling finds is found, and what passes is clear of every sample', () => {
    const next = random(SEED);
    const gauge = new Gauge(wanted);
    let hits = 0;
    let clear = 0;
    for (let n = 0; n < runs(2500); n++) {
      const c = cutters[Math.floor(next() * cutters.length)]!;
      const home =
        next() < 0.5
          ? { x: 46 * next() - 8, y: 18 * next() - 9 }
          : { x: [0, 32, 24, 12, 15][Math.floor(next() * 5)]!, y: next() - 0.5 };
      const a = toProgram(home);
      const b = { x: a.x + 4 * next() - 2, y: a.y + 4 * next() - 2 };
      const za = -4.5 * next();
      const zb = next() < 0.5 ? za : -4.5 * next();
      const path =
        next() < 0.3
          ? line(a, a)
          : next() < 0.6
            ? line(a, b)
            : arc(b, Math.max(0.1, Math.hypot(a.x - b.x, a.y - b.y)), 6 * next(), 12 * next() - 6);
      const s = stroke(path, za, zb, c);
      const found = gauge.hit(s, wanted.parts[0]!);
      if (found === undefined) {
        clear++;
        // A sample more than the limit inside the cutter's surface must not be in the part.
        expect(bruteHit(path, za, zb, c, SHRINK)).toBe(false);
      } else {
        hits++;
        expect(found.size).toBeGreaterThan(0.005);
        // A gouge of some size is seen by samples too, unless it is smaller than their spacing.
        if (found.size > 0.5) expect(bruteHit(path, za, zb, c, 0.01)).toBe(true);
      }
    }
    expect(hits).toBeGreaterThan(30);
    expect(clear).toBeGreaterThan(30);
  });

  it('the size of a plain gouge is told to a micrometre', () => {
    const w = wantedOf(leverJob());
    const gauge = new Gauge(w);
    for (const deep of [0.006, 0.02, 0.1]) {
      // Round the left end of the big boss, too near by `deep`.
      const s = stroke(arc(AT, 6 + 1.5 - deep, 2.5, 1), -2, -2, cutter(1, 'end mill', 3));
      expect(gauge.hit(s, w.parts[0]!)!.size).toBeCloseTo(deep, 4);
    }
    const s = stroke(arc(AT, 6 + 1.5 - 0.004, 2.5, 1), -2, -2, cutter(1, 'end mill', 3));
    expect(gauge.hit(s, w.parts[0]!)).toBeUndefined();
  });
});
