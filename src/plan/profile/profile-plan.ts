/** The outside of the part: which cutter, how deep a pass, how much is left to finish. */
import { fault, type Problem } from '../../base/problem.ts';
import { short } from '../../base/text.ts';
import type { Mm, Mm2 } from '../../base/units.ts';
import { intersect } from '../../geometry/join.ts';
import { regionArea } from '../../geometry/measure/loop.ts';
import { curvatureOf } from '../../geometry/measure/segment.ts';
import { offsetRegion } from '../../geometry/offset/offset.ts';
import type { Region } from '../../geometry/types.ts';
import type { Cutter, Job, Outline } from '../../part/part.ts';
import { SLOT_WIDENING } from '../../trade/holding-rules.ts';
import { PROFILE_WIDTH } from '../../trade/milling-rules.ts';
import { ofKind, tooShort } from '../drawer.ts';
import { sayPlace } from '../words.ts';

export interface ProfileChoice {
  readonly cutter: Cutter;
  readonly bottom: Mm;
  readonly allowance: Mm;
  readonly widen: Mm;
  readonly reasons: readonly string[];
}

/** How far the last pass goes into a backing plate (common practice 0.1-0.3 mm). */
export const INTO_BACKING: Mm = 0.2;

/** `past`: inside curves are passed by, for a smaller cutter to follow. */
export function chooseProfile(job: Job, past = false): ProfileChoice | { readonly problems: readonly Problem[] } {
  const bottom = profileBottom(job);
  const depth = job.stock.above - bottom;
  const flat = ofKind(job, 'end mill', 'slot drill').filter((c) => c.cornerRadius === 0);
  const long = flat.filter((c) => c.fluteLength >= depth - 1e-9);
  if (flat.length === 0) return { problems: [noProfileCutter(job)] };
  if (long.length === 0)
    return {
      problems: [tooShort(job, [...flat].sort((a, b) => b.fluteLength - a.fluteLength)[0]!, depth, 'the outline')],
    };
  const inlets = inletsOf(job);
  const shut = inlets.find((i) => Math.min(...long.map((c) => i.left(c))) > MOST_LEFT * i.area);
  if (shut !== undefined) return { problems: [inletTooNarrow(job, shut, long)] };
  const free = long.filter((c) =>
    inlets.every((i) => i.left(c) <= Math.min(...long.map((x) => i.left(x))) + MORE_LEFT * i.area),
  );
  const tight = past ? Number.POSITIVE_INFINITY : tightestInside(job);
  const wanted = Math.min(PROFILE_WIDTH.high, Math.max(PROFILE_WIDTH.low, job.part.thickness));
  const entering = free.filter((c) => c.diameter / 2 <= tight + 1e-9);
  const pool = entering.length > 0 ? entering : [...free].sort((a, b) => a.diameter - b.diameter).slice(0, 1);
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
        (Number.isFinite(tight) ? ` and that enters inside curves of ${short(tight)} mm` : '') +
        (inlets.length > 0 ? ' and what pockets take out of the edge' : ''),
      ...(deep
        ? [`the slot is deeper than it is wide: widened ${short(SLOT_WIDENING.low)} mm outward at each depth for swarf`]
        : []),
    ],
  };
}

/** What a through pocket takes out of the edge, and how much of it a cutter leaves when it roughs round the part. */
interface Inlet {
  readonly opening: Outline;
  readonly area: Mm2;
  left(cutter: Cutter): Mm2;
}

/** A larger cutter is taken when it leaves at most this share of an inlet more than the smallest would. */
const MORE_LEFT = 0.03;
/** A cutter that leaves more than this share of an inlet does not enter it. */
const MOST_LEFT = 0.5;
/** Room that must be left beside roughing's path. */
const INLET_ROOM: Mm = 0.01;

function inletsOf(job: Job): readonly Inlet[] {
  const { loop, cut } = job.part.outline;
  if (cut === undefined) return [];
  return cut.less.map((opening) => {
    const taken = shared({ outer: cut.drawn, holes: [] }, opening);
    return {
      opening,
      area: areaOf(taken),
      left: (cutter) => {
        const by = cutter.diameter / 2 + job.finish.allowance + INLET_ROOM;
        const round = offsetRegion({ outer: loop, holes: [] }, by);
        const back =
          round.kind === 'regions' ? round.regions.map((r) => offsetRegion({ outer: r.outer, holes: [] }, -by)) : [];
        return areaOf(back.flatMap((b) => (b.kind === 'regions' ? b.regions.flatMap((r) => shared(r, opening)) : [])));
      },
    };
  });
}

function shared(area: Region, opening: Outline): readonly Region[] {
  const both = intersect(area, { outer: opening.loop, holes: [] });
  return both.kind === 'regions' ? both.regions : [];
}

function areaOf(regions: readonly Region[]): Mm2 {
  return regions.reduce((sum, r) => sum + regionArea(r), 0);
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

function inletTooNarrow(job: Job, { opening }: Inlet, long: readonly Cutter[]): Problem {
  const at = opening.loop[0]!.a;
  const have = long.map((c) => short(c.diameter)).join(', ');
  return fault({
    code: 'cutter-too-wide',
    at: { path: 'part.pockets', at: [at.x, at.y] },
    found: `no flat-ended cutter enters the opening in the edge near ${sayPlace(job, at)} with ${short(job.finish.allowance)} mm left on both walls (long enough are ${have})`,
    wanted: 'a narrower end mill or slot drill',
    remedy: 'add one to "cutters", or widen the opening',
  });
}

function noProfileCutter(job: Job): Problem {
  return fault({
    code: 'cutter-missing',
    at: { path: 'cutters' },
    found: `no end mill or slot drill without corner radius among the ${job.cutters.length} cutters`,
    wanted: 'a flat-ended cutter for the outline',
    remedy: 'add one to "cutters", or leave the key out to use the default drawer',
  });
}
