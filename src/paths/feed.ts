/** Feed at the cutter's centre on curves. */
import type { Mm } from '../base/units.ts';
import type { Segment } from '../geometry/types.ts';

/** Limits of the correction (common practice: at most 1.5 outside, not under 0.25 inside). */
const LEAST_FACTOR = 0.25;
const MOST_FACTOR = 1.5;
const FACTOR_DIGITS = 1e4;

/**
 * Factor from feed at the edge to feed at the centre, for an arc of path. The work lies outside the arc's circle when the
 * path turns away from it; an outside corner (no arc on the edge) keeps the feed. Source: open references on circular
 * interpolation feed, tested with their formulas: inside (Dhole - Dtool)/Dhole, outside (Dboss + Dtool)/Dboss.
 *
 * `workOn` says on which side of the direction of travel the work lies.
 */
export function arcFeedFactor(piece: Segment, cutterRadius: Mm, cap: number, workOn: 'left' | 'right'): number {
  if (piece.kind === 'line') return Math.min(1, cap);
  const centreOnWorkSide = piece.sweep > 0 === (workOn === 'left');
  const edge = centreOnWorkSide ? piece.radius - cutterRadius : piece.radius + cutterRadius;
  if (edge <= cutterRadius * 0.05) return Math.min(1, cap);
  // To four figures: a radius that differs in its last bit, as after a drawing, must not tip the last digit of a written feed.
  const factor = Math.round((piece.radius / edge) * FACTOR_DIGITS) / FACTOR_DIGITS;
  return Math.min(cap, Math.min(MOST_FACTOR, Math.max(LEAST_FACTOR, factor)));
}
