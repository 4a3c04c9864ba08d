/** Heights along a path: piecewise linear z over distance s. Ramps, spirals and tab lifts are all made of these. */
import type { Mm } from '../../base/units.ts';

export interface Knot {
  readonly s: Mm;
  readonly z: Mm;
}

/** Knots in order of s; before the first and after the last the height is level. Never empty. */
export type Slope = readonly Knot[];

export function heightAt(slope: Slope, s: Mm): Mm {
  const first = slope[0]!;
  if (s <= first.s) return first.z;
  for (let i = 1; i < slope.length; i++) {
    const b = slope[i]!;
    if (s <= b.s) {
      const a = slope[i - 1]!;
      return b.s === a.s ? b.z : a.z + ((b.z - a.z) * (s - a.s)) / (b.s - a.s);
    }
  }
  return slope[slope.length - 1]!.z;
}

/** The greater of two slopes at every s of [from, to], with a knot at each crossing. */
export function higherOf(a: Slope, b: Slope, from: Mm, to: Mm): Slope {
  const places = new Set<number>([from, to]);
  for (const k of [...a, ...b]) if (k.s > from && k.s < to) places.add(k.s);
  const sorted = [...places].sort((x, y) => x - y);
  const knots: Knot[] = [];
  sorted.forEach((s, i) => {
    const previous = sorted[i - 1];
    if (previous !== undefined) {
      const cross = crossing(a, b, previous, s);
      if (cross !== undefined) knots.push({ s: cross, z: heightAt(a, cross) });
    }
    knots.push({ s, z: Math.max(heightAt(a, s), heightAt(b, s)) });
  });
  return dropLevel(knots);
}

function crossing(a: Slope, b: Slope, from: Mm, to: Mm): Mm | undefined {
  const d0 = heightAt(a, from) - heightAt(b, from);
  const d1 = heightAt(a, to) - heightAt(b, to);
  if (d0 * d1 >= 0) return undefined;
  return from + ((to - from) * d0) / (d0 - d1);
}

/** Knots in the middle of a straight stretch say nothing. Judged against the last knot kept: two near twins must not drop each other. */
function dropLevel(knots: readonly Knot[]): Slope {
  const kept: Knot[] = [];
  knots.forEach((k, i) => {
    const p = kept[kept.length - 1];
    const n = knots[i + 1];
    if (p && n && n.s > p.s) {
      const straight = p.z + ((n.z - p.z) * (k.s - p.s)) / (n.s - p.s);
      if (Math.abs(straight - k.z) < 1e-9) return;
    }
    if (p && k.s - p.s < 1e-9 && Math.abs(k.z - p.z) < 1e-9) return;
    kept.push(k);
  });
  return kept;
}
