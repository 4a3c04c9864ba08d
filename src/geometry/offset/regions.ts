import { whereIs } from '../measure/inside.ts';
import { loopArea, loopBox } from '../measure/loop.ts';
import { pointAt } from '../measure/segment.ts';
import type { Box, Loop, Region } from '../types.ts';

/**
 * Sorts simple, disjoint loops into areas: counter-clockwise ones are outer edges, and each clockwise one is an opening
 * of the smallest outer edge that holds it. The order of the outer edges is kept.
 */
export function regionsOf(loops: readonly Loop[]): Region[] {
  const sized = loops.map((loop) => ({ loop, area: loopArea(loop), box: loopBox(loop) }));
  const outers = sized.filter((s) => s.area > 0).map((s) => ({ ...s, holes: [] as Loop[] }));
  const bySize = [...outers].sort((a, b) => a.area - b.area);
  for (const hole of sized) {
    if (hole.area >= 0) continue;
    bySize.find((o) => o.area > -hole.area && holds(o, hole))?.holes.push(hole.loop);
  }
  return outers.map((o) => ({ outer: o.loop, holes: o.holes }));
}

interface Boxed {
  readonly loop: Loop;
  readonly box: Box;
}

function holds(outer: Boxed, inner: Boxed): boolean {
  const { box: o } = outer;
  const { box: i } = inner;
  if (i.minX < o.minX - SLACK || i.maxX > o.maxX + SLACK || i.minY < o.minY - SLACK || i.maxY > o.maxY + SLACK)
    return false;
  // Loops may touch, so the first point that is clearly on one side decides.
  for (const s of inner.loop) {
    const where = whereIs(outer.loop, pointAt(s, 0.5));
    if (where !== 'edge') return where === 'inside';
  }
  return true;
}

/** Boxes of touching loops differ by rounding only. */
const SLACK = 1e-6;
