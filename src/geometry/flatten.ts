import { arcsine } from '../base/angles.ts';
import type { Mm } from '../base/units.ts';
import { pointAt } from './measure/segment.ts';
import type { Chain, Loop, Point, Segment } from './types.ts';

/**
 * Points of a loop, first point not repeated, all on the curve; chords leave the curve by at most `chord`.
 * Lines give their ends only. Arcs are divided evenly, at least once in each quarter of a turn.
 */
export function flattenLoop(loop: Loop, chord: Mm): Point[] {
  return loop.flatMap((s) => startAndInside(s, chord));
}

/** As `flattenLoop` for an open chain: its last point is included. Empty for an empty chain. */
export function flattenChain(chain: Chain, chord: Mm): Point[] {
  const last = chain[chain.length - 1];
  return last === undefined ? [] : [...flattenLoop(chain, chord), last.b];
}

function startAndInside(s: Segment, chord: Mm): Point[] {
  const n = steps(s, chord);
  return Array.from({ length: n }, (_, k) => pointAt(s, k / n));
}

/** Number of equal chords: the rise of one is r(1 - cos(step/2)) = 2 r sin^2(step/4), which keeps its digits when small. */
function steps(s: Segment, chord: Mm): number {
  if (s.kind === 'line') return 1;
  const least = Math.ceil(Math.abs(s.sweep) / (Math.PI / 2) - 1e-9);
  const sine = Math.sqrt(Math.max(chord, FINEST_CHORD) / (2 * s.radius));
  const largest = sine >= Math.SQRT1_2 ? Math.PI : 4 * arcsine(sine);
  return Math.max(1, least, Math.ceil(Math.abs(s.sweep) / largest));
}

/** Finer chords than a nanometre only cost memory: an unscaled tolerance must not end in a million points. */
const FINEST_CHORD: Mm = 1e-6;
