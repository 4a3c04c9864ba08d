/** Driving the cutter's centre along a path with heights that change on the way. */

import type { Mm, MmPerMin } from '../../base/units.ts';
import { chainBetween, loopLength, type PointOnLoop, pointAlong, startAt } from '../../geometry/measure/loop.ts';
import { segmentLength, subSegment } from '../../geometry/measure/segment.ts';
import type { Chain, Loop, Segment } from '../../geometry/types.ts';
import type { Emitter } from '../emitter.ts';
import { heightAt, type Slope } from './slope.ts';

/** Pieces shorter than this are joined to their neighbour: below the written grid they would round away. */
const SHORTEST: Mm = 5e-4;

export interface Feeds {
  /** Level or climbing. */
  readonly cut: MmPerMin;
  /** Going down. */
  readonly ramp: MmPerMin;
  /** Correction for a piece of path, e.g. on arcs. */
  readonly factor: (piece: Segment) => number;
}

/**
 * From place `start` of the loop over `length` (which may pass round several times); the slope's s counts from `start`.
 * The cutter must already stand at the start.
 */
export function followLoop(em: Emitter, loop: Loop, start: Mm, length: Mm, slope: Slope, feeds: Feeds): void {
  const period = loopLength(loop);
  const turns = Math.floor(length / period + 1e-9);
  const rest = length - turns * period;
  const round = startAt(loop, start);
  const chain: Segment[] = [];
  for (let i = 0; i < turns; i++) chain.push(...round);
  if (rest > SHORTEST) chain.push(...chainBetween(loop, start, start + rest));
  followChain(em, chain, slope, feeds);
}

export function followChain(em: Emitter, chain: Chain, slope: Slope, feeds: Feeds): void {
  let s = 0;
  for (const segment of chain) {
    const length = segmentLength(segment);
    for (const [t0, t1] of pieces(slope, s, length)) {
      const piece = t0 === 0 && t1 === 1 ? segment : subSegment(segment, t0, t1);
      const z0 = heightAt(slope, s + t0 * length);
      const z1 = heightAt(slope, s + t1 * length);
      // Down a ramp the end bites at the fall, whatever the curve: no faster outside an arc.
      const feed = z1 < z0 - 1e-9 ? feeds.ramp * Math.min(1, feeds.factor(piece)) : feeds.cut * feeds.factor(piece);
      em.along(piece, z1, feed);
    }
    s += length;
  }
}

/** The fractions of a segment between the slope's knots. */
function pieces(slope: Slope, s: Mm, length: Mm): [number, number][] {
  if (length === 0) return [];
  const cuts = slope.map((k) => k.s - s).filter((d) => d > SHORTEST && d < length - SHORTEST);
  const stops = [0, ...cuts.sort((a, b) => a - b).map((d) => d / length), 1];
  const out: [number, number][] = [];
  for (let i = 1; i < stops.length; i++) {
    const from = out.length > 0 ? out[out.length - 1]![1] : 0;
    const to = stops[i]!;
    if ((to - from) * length < SHORTEST && out.length > 0) out[out.length - 1]![1] = to;
    else out.push([from, to]);
  }
  return out;
}

export function placeOn(loop: Loop, s: Mm): PointOnLoop {
  const spot = pointAlong(loop, s);
  if (!spot) throw new Error('a path without length: a bug in the path stage');
  return spot;
}
