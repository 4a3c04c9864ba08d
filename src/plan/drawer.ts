/** Finding cutters in the drawer. Where several would do, the one with the lowest number is taken: same input, same plan. */
import { fault, type Problem } from '../base/problem.ts';
import type { Mm } from '../base/units.ts';
import type { Cutter, CutterKind, Job } from '../part/part.ts';
import { say } from './words.ts';

export function ofKind(job: Job, ...kinds: readonly CutterKind[]): readonly Cutter[] {
  return job.cutters.filter((c) => kinds.includes(c.kind));
}

/** The cutter of a kind within [least, most] nearest to `wanted`. */
export function nearestCutter(job: Job, kind: CutterKind, wanted: Mm, least: Mm, most: Mm): Cutter | undefined {
  const fitting = ofKind(job, kind).filter((c) => c.diameter >= least - 1e-9 && c.diameter <= most + 1e-9);
  return [...fitting].sort(
    (a, b) => Math.abs(a.diameter - wanted) - Math.abs(b.diameter - wanted) || a.number - b.number,
  )[0];
}

export function missingCutter(
  job: Job,
  kind: CutterKind,
  [least, most]: readonly [Mm, Mm],
  what: string,
  path: string,
): Problem {
  const have = ofKind(job, kind).map((c) => say(job, c.diameter));
  const size = most - least < 1e-6 ? say(job, least) : `${say(job, least)} to ${say(job, most)}`;
  return fault({
    code: 'cutter-missing',
    at: { path },
    found: `no ${kind} of ${size} in the drawer${have.length > 0 ? ` (it has ${near(have)})` : ''}, needed for ${what}`,
    wanted: `a ${kind} of ${size}`,
    remedy: 'add it to "cutters", or change the hole',
  });
}

function near(sizes: readonly string[]): string {
  return sizes.length <= 8 ? sizes.join(', ') : `${sizes.length} others, ${sizes[0]} to ${sizes[sizes.length - 1]}`;
}

export function tooShort(job: Job, cutter: Cutter, depth: Mm, what: string): Problem {
  return fault({
    code: 'flute-too-short',
    found: `cutter ${cutter.number}, ${cutter.kind} ${say(job, cutter.diameter)}, has flutes of ${say(job, cutter.fluteLength)}; ${what} goes ${say(job, depth)} deep`,
    wanted: `flutes of at least ${say(job, depth)}`,
    remedy: 'use a longer cutter or a thinner plate',
  });
}
