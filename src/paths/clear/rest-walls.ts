/** The stretches of a pocket's walls that a wider cutter did not reach. */
import type { Mm } from '../../base/units.ts';
import { chainBetween, loopLength, positionOf, startAt } from '../../geometry/measure/loop.ts';
import type { Chain, Loop, Region } from '../../geometry/types.ts';
import { type Before, beyond } from './grow.ts';
import { stretches } from './new-edge.ts';
import { wallRings } from './rings.ts';

/** They begin and end this far along the finished wall, so that no mark is left (common practice 0.5-1 mm). */
const OVERLAP: Mm = 0.8;

export function restWalls(pocket: Region, radius: Mm, before: Before): Chain[] {
  const outside = beyond(before);
  return wallRings(pocket, radius)
    .flatMap((area) => [area.outer, ...area.holes])
    .flatMap((loop) => stretches(loop, outside, 2 * OVERLAP).map((s) => (s.closed ? s.chain : longer(loop, s.chain))));
}

function longer(loop: Loop, chain: Chain): Chain {
  const length = loopLength(loop);
  const from = positionOf(loop, chain[0]!.a)!.s - OVERLAP;
  const whole = loopLength(chain) + 2 * OVERLAP;
  const start = (from + length) % length;
  return whole >= length ? startAt(loop, start) : chainBetween(loop, start, start + whole);
}
