/** Where the rim of the glue rules, what it bears there, and what would help. */
import { short } from '../../base/text.ts';
import { type RimLimit, rimLoad } from '../../mechanics/support/rim.ts';
import type { Judged } from '../evaluate/judge.ts';

/** One line where a glued part's rim is what is nearest its limit; else none. */
export function rimWords({ margin }: Judged): readonly string[] {
  const { limit, spot, moment } = margin;
  if (limit?.kind !== 'bond' || spot === null || moment === null) return [];
  const { rim } = limit;
  const { z } = moment;
  const { triples } = moment.forces;
  let worst = { pull: 0, shear: 0, line: 0 };
  for (let i = 0; i < triples.length; i += 3) {
    const load = rimLoad(rim, { spot, z, out: triples[i]!, along: triples[i + 1]!, up: triples[i + 2]! });
    if (shareOf(load, rim) > shareOf(worst, rim)) worst = load;
  }
  // The rest is spread under the part as if it were stiff.
  if (shareOf(worst, rim) < 0.5 / margin.least) return [];
  const of = (had: number, allowed: number) => `${short(had, 2)} of ${short(allowed, 2)}`;
  return [
    `the glue is nearest its limit at the rim, at ${short(spot.x, 1)}, ${short(spot.y, 1)}: pull ${of(worst.pull, rim.pull)} and shear ${of(worst.shear, rim.shear)} N/mm2, what the ends of a lap joint bear at its allowed mean, and lift ${of(worst.line, rim.line)} N on a millimetre of edge; a rounder or broader end there would bear deeper passes`,
  ];
}

function shareOf(load: Pick<RimLimit, 'pull' | 'shear' | 'line'>, rim: RimLimit): number {
  return Math.max(load.pull / rim.pull, load.shear / rim.shear, load.line / rim.line);
}
