/** The outside of the part: which cutter, how deep a pass, how much is left to finish. */
import { fault, type Problem } from '../base/problem.ts';
import { short } from '../base/text.ts';
import type { Mm } from '../base/units.ts';
import { curvatureOf } from '../geometry/measure/segment.ts';
import type { Cutter, Job } from '../part/part.ts';
import { SLOT_WIDENING } from '../trade/holding-rules.ts';
import { PROFILE_WIDTH } from '../trade/milling-rules.ts';
import { ofKind, tooShort } from './drawer.ts';

export interface ProfileChoice {
  readonly cutter: Cutter;
  readonly bottom: Mm;
  readonly allowance: Mm;
  readonly widen: Mm;
  readonly reasons: readonly string[];
}

/** How far the last pass goes into a backing plate (common practice 0.1-0.3 mm). */
export const INTO_BACKING: Mm = 0.2;

export function chooseProfile(job: Job): ProfileChoice | { readonly problems: readonly Problem[] } {
  const bottom = profileBottom(job);
  const depth = job.stock.above - bottom;
  const flat = ofKind(job, 'end mill', 'slot drill').filter((c) => c.cornerRadius === 0);
  const long = flat.filter((c) => c.fluteLength >= depth - 1e-9);
  if (flat.length === 0) return { problems: [noProfileCutter(job)] };
  if (long.length === 0)
    return {
      problems: [tooShort(job, [...flat].sort((a, b) => b.fluteLength - a.fluteLength)[0]!, depth, 'the outline')],
    };
  const tight = tightestInside(job);
  const entering = long.filter((c) => c.diameter / 2 <= tight + 1e-9);
  const wanted = Math.min(PROFILE_WIDTH.high, Math.max(PROFILE_WIDTH.low, job.part.thickness));
  const pool = entering.length > 0 ? entering : [...long].sort((a, b) => a.diameter - b.diameter).slice(0, 1);
  const cutter = [...pool].sort(
    (a, b) =>
      over(a, wanted) - over(b, wanted) ||
      Math.abs(a.diameter - wanted) - Math.abs(b.diameter - wanted) ||
      a.number - b.number,
  )[0]!;
  const deep = depth > cutter.diameter;
  return {
    cutter,
    bottom,
    allowance: job.finish.allowance,
    widen: deep ? SLOT_WIDENING.low : 0,
    reasons: [
      `the largest flat-ended cutter not wider than ${short(wanted)} mm (the plate, within ${PROFILE_WIDTH.low} to ${PROFILE_WIDTH.high} mm) whose flutes reach ${short(depth)} mm` +
        (Number.isFinite(tight) ? ` and that enters inside curves of ${short(tight)} mm` : ''),
      ...(deep
        ? [`the slot is deeper than it is wide: widened ${short(SLOT_WIDENING.low)} mm outward at each depth for swarf`]
        : []),
    ],
  };
}

/** Cutters wider than wanted come last. */
function over(c: Cutter, wanted: Mm): number {
  return c.diameter > wanted + 1e-9 ? 1 : 0;
}

export function profileBottom(job: Job): Mm {
  const lower = -job.part.thickness;
  if (job.stock.below > 0) return lower;
  if (job.hold.by === 'floor') return lower + job.hold.thickness;
  return job.under.kind === 'plate' ? lower - Math.min(INTO_BACKING, job.under.thickness / 2) : lower;
}

/** Smallest radius among the inside curves of the outline; Infinity when there is none. Sharp inside corners do not count: they are left round and noted. */
function tightestInside(job: Job): Mm {
  return job.part.outline.loop.reduce((least, s) => {
    const k = curvatureOf(s);
    return k < 0 ? Math.min(least, -1 / k) : least;
  }, Infinity);
}

function noProfileCutter(job: Job): Problem {
  return fault(
    'cutter-missing',
    `no end mill or slot drill without corner radius among the ${job.cutters.length} cutters`,
    'a flat-ended cutter for the outline',
    'add one to "cutters", or leave the key out to use the default drawer',
    { path: 'cutters' },
  );
}
