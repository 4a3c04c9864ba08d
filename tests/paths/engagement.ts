/**
 * What a pocket's program cuts, reckoned from its strokes alone: the engagement angle along every path, and what is never reached.
 * Stock is the whole plane; a point is open once a disc has passed over it. No grid: distances to the strokes are exact.
 */
import { nearestOn, pointAt, segmentBox, segmentLength, subSegment } from '../../src/geometry/measure/segment.ts';
import type { Box, Point, Segment } from '../../src/geometry/types.ts';
import type { Cut } from './helpers.ts';

export interface Engaged {
  /** Degrees of the rim in stock: 180 is a full slot. */
  readonly degrees: number;
  readonly at: Point;
  readonly block: number;
  /** Index of the stroke among those given. */
  readonly stroke: number;
}

/** Rim points looked at, and how far outside the rim: metal thinner than that is no chip. */
const RIM = 120;
const OUTSIDE = 5e-4;
/** Degrees: the answer is within one step. */
export const RIM_STEP = 360 / RIM;

/**
 * Greatest engagement on every level stroke at `level`, in running order. Strokes that change height only open the way: entries.
 * `spacing`: between the places looked at. `before`: what a wider cutter has done.
 */
export function engagements(
  cuts: readonly Cut[],
  radius: number,
  level: number,
  spacing: number,
  before: Before | null = null,
): Engaged[] {
  const out: Engaged[] = [];
  const past = new Past(radius);
  for (const c of before?.cuts ?? []) {
    if (Math.max(c.za, c.zb) <= level + 1e-6) past.add(c.path, before!.radius);
  }
  for (const [i, c] of cuts.entries()) {
    if (Math.max(c.za, c.zb) > level + 1e-6) {
      // Coming down on a helix or ramp: only its lower end is certain to be open.
      if (Math.min(c.za, c.zb) <= level + 1e-6) past.add(subSegment(c.path, c.za < c.zb ? 0 : 1, c.za < c.zb ? 0 : 1));
      continue;
    }
    const length = segmentLength(c.path);
    if (length === 0) {
      past.add(c.path);
      continue;
    }
    if (c.za === c.zb) {
      const count = Math.max(2, Math.ceil(length / spacing));
      let best: Engaged | undefined;
      for (let k = 1; k <= count; k++) {
        const t = (k - 0.5) / count;
        const at = pointAt(c.path, t);
        const degrees = past.engaged(at, subSegment(c.path, 0, t));
        if (best === undefined || degrees > best.degrees) best = { degrees, at, block: c.block, stroke: i };
      }
      out.push(best!);
    }
    past.add(c.path);
  }
  return out;
}

export interface Before {
  readonly cuts: readonly Cut[];
  readonly radius: number;
}

interface Passed {
  readonly path: Segment;
  readonly box: Box;
  readonly radius: number;
}

class Past {
  private readonly radius: number;
  private readonly passed: Passed[] = [];

  constructor(radius: number) {
    this.radius = radius;
  }

  add(path: Segment, radius = this.radius): void {
    this.passed.push({ path, box: segmentBox(path), radius });
  }

  engaged(at: Point, now: Segment): number {
    const reach = this.radius + OUTSIDE;
    let count = 0;
    // What was cut last lies nearest, as a rule.
    const close = this.passed
      .filter((s) => boxesMeet(s.box, at, reach + s.radius) && near(s.path, at) < reach + s.radius)
      .reverse();
    for (let i = 0; i < RIM; i++) {
      const a = (2 * Math.PI * i) / RIM;
      const q = { x: at.x + reach * Math.cos(a), y: at.y + reach * Math.sin(a) };
      if (near(now, q) < this.radius || close.some((s) => near(s.path, q) < s.radius)) continue;
      count++;
    }
    return (360 * count) / RIM;
  }
}

function boxesMeet(b: Box, p: Point, by: number): boolean {
  return p.x >= b.minX - by && p.x <= b.maxX + by && p.y >= b.minY - by && p.y <= b.maxY + by;
}

function near(s: Segment, q: Point): number {
  return nearestOn(s, q).distance;
}
