/** The last pass along the walls of a pocket: on and off by arcs that keep clear of every wall. */
import type { Mm, Rad } from '../../base/units.ts';
import type { RegionEdge } from '../../geometry/measure/approach.ts';
import { chainBetween, loopLength, pointAlong, startAt } from '../../geometry/measure/loop.ts';
import { rot90, step } from '../../geometry/measure/point.ts';
import { curvatureOf, pointAt } from '../../geometry/measure/segment.ts';
import type { Chain, Loop, Point, Segment } from '../../geometry/types.ts';
import { leadIn, leadOut } from '../along/lead.ts';
import type { SweptArea } from './swept.ts';
import { bitten, type LevelLeg } from './walk.ts';

export type WallPass =
  | { readonly kind: 'led'; readonly start: Point; readonly legs: readonly LevelLeg[] }
  /** No room for leads: down along the loop. */
  | { readonly kind: 'ramp'; readonly loop: Loop };

const OVERLAP: Mm = 0.8;
/** A lead inside a curve bends this much tighter than the curve at least: else it would hardly leave it. */
const LEAD_IN_CURVE = 0.6;

export interface WallWish {
  readonly radius: Mm;
  readonly allowance: Mm;
  readonly limit: Rad;
}

/** `loop` at the cutter's radius from the wall, inside on its left; `swept`: all that roughing has opened, and it is added to. */
export function wallPass(
  pocket: RegionEdge,
  loop: Loop,
  wish: WallWish,
  swept: SweptArea,
): { wall: WallPass; peak: Rad } {
  const ways = waysOn(pocket, loop, wish);
  if (ways === null) {
    for (const s of loop) swept.add(s);
    return { wall: { kind: 'ramp', loop }, peak: 0 };
  }
  const legs: LevelLeg[] = [];
  let peak = 0;
  const round = [...startAt(loop, ways.s), ...chainBetween(loop, ways.s, ways.s + OVERLAP)];
  for (const s of [...ways.on, ...round, ...ways.off]) {
    const bite = bitten(swept, s, wish.limit);
    legs.push(...bite.legs);
    peak = Math.max(peak, bite.peak);
    swept.add(s);
  }
  return { wall: { kind: 'led', start: ways.start, legs }, peak };
}

/** Leads begin on the last roughing ring, where the way down is open. */
function waysOn(pocket: RegionEdge, loop: Loop, wish: WallWish): { s: Mm; start: Point; on: Chain; off: Chain } | null {
  const { allowance, radius: r } = wish;
  for (const radius of [r, r / 2, allowance]) {
    for (const share of [0.5, 0.25, 0.75, 0]) {
      const s = share * loopLength(loop);
      const into = pointAlong(loop, s)!;
      const out = pointAlong(loop, s + OVERLAP)!;
      if (radius > Math.max(allowance, LEAD_IN_CURVE * insideRadius(loop[into.index]!))) continue;
      const on = leadIn(into.point, into.direction, 1, allowance, radius);
      const off = leadOut(out.point, out.direction, 1, allowance, radius);
      if (![...on, ...off].every((x) => staysInside(pocket, x, r - 1e-5))) continue;
      return { s, start: on[0]?.a ?? step(into.point, rot90(into.direction), allowance), on, off };
    }
  }
  return null;
}

/** Every point of the segment lies at least `clear` inside the pocket. */
function staysInside(pocket: RegionEdge, s: Segment, clear: Mm): boolean {
  return pocket.holds(pointAt(s, 0.5)) && pocket.index.gap(s).distance >= clear;
}

/** Radius of a piece of path that bends to the open side; Infinity for lines and curves the other way. */
function insideRadius(piece: Segment): Mm {
  const bend = curvatureOf(piece);
  return bend > 0 ? 1 / bend : Number.POSITIVE_INFINITY;
}
