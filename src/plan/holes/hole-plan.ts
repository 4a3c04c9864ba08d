/** What each hole needs: spot, pilot, drill, countersink, ream, tap; with every cutter found and every depth worked out. */
import { caution, fault, note, type Problem } from '../../base/problem.ts';
import { short } from '../../base/text.ts';
import type { Mm } from '../../base/units.ts';
import type { Cutter, Hole, Job } from '../../part/part.ts';
import { SPOT_START } from '../../trade/hole-rules.ts';
import { pointLength } from '../../trade/threads/drills.ts';
import { missingCutter, nearestCutter, ofKind, tooShort } from '../drawer.ts';
import { holeName, say } from '../words.ts';
import { chooseDrill, type DrillChoice, pilotFor, SAME_SIZE, wantsPilot } from './drill-choice.ts';
import { holeDepths } from './hole-depths.ts';

/** One cutter going down one hole. */
export interface HoleStep {
  readonly what: 'spot' | 'pilot' | 'drill' | 'countersink' | 'ream' | 'tap' | 'screw holes';
  readonly cutter: Cutter;
  /** Diameter that cuts at the bottom of the step. */
  readonly cutting: Mm;
  /** Diameter already open before the step; 0: solid. */
  readonly open: Mm;
  /** z of the cutter's tip at the bottom. */
  readonly bottom: Mm;
  readonly note: string;
  /** Reasons of its own, before those of speed and feed. */
  readonly why?: readonly string[];
}

/** Steps run in this order over all holes, so that each cutter is fitted once. */
export const STEP_ORDER = ['spot', 'pilot', 'drill', 'countersink', 'ream', 'tap'] as const;

export interface HolePlan {
  readonly hole: Hole;
  readonly steps: readonly HoleStep[];
  /** Thread to be cut at the bench or at a stop, with no tap among the cutters. */
  readonly tapAtStop: boolean;
  readonly told: readonly Problem[];
}

export function planHole(job: Job, hole: Hole, path: string): HolePlan | { readonly problems: readonly Problem[] } {
  const chosen = chooseDrill(job, hole, path);
  const follower = followerOf(job, hole, path);
  const sink = countersinkStep(job, hole, path);
  const wrong = [chosen, follower, sink].flatMap((x) => (x !== null && 'severity' in x ? [x] : []));
  if (wrong.length > 0) return { problems: wrong };
  return assembled(job, hole, path, chosen as DrillChoice, follower as Cutter | null, sink as HoleStep | null);
}

function assembled(
  job: Job,
  hole: Hole,
  path: string,
  chosen: DrillChoice,
  follower: Cutter | null,
  sink: HoleStep | null,
): HolePlan | { readonly problems: readonly Problem[] } {
  const { drill } = chosen;
  const depths = holeDepths(job, hole, drill, follower, path);
  const spot = spotStep(job, hole, drill);
  const pilot = pilotStep(job, drill, depths.drill);
  const main: HoleStep = {
    what: 'drill',
    cutter: drill,
    cutting: drill.diameter,
    bottom: depths.drill,
    open: pilot?.cutting ?? 0,
    note: chosen.purpose,
    why: chosen.why,
  };
  const steps = [spot, pilot, main, sink, followerStep(job, hole, follower, drill, depths.follower)].filter(
    (s) => s !== null,
  );
  const told = [
    ...depths.problems,
    ...chosen.notes,
    ...(spot ? [] : [noSpot(hole, path)]),
    ...(pilot === null && wantsPilot(job, drill) ? [noPilot(job, hole, drill, path)] : []),
    ...steps.flatMap((s) => reachProblem(job, hole, s)),
  ];
  if (told.some((p) => p.severity === 'fault')) return { problems: told };
  return { hole, steps, tapAtStop: hole.make.kind === 'tap' && follower === null, told };
}

/** The reamer or tap after the drill. Tapping by hand does not need one in the list. */
function followerOf(job: Job, hole: Hole, path: string): Cutter | Problem | null {
  const { make } = hole;
  const what = holeName(hole);
  if (make.kind === 'ream' || make.kind === 'bore') {
    const size = make.nominal;
    const reamer = nearestCutter(job, 'reamer', size, size - SAME_SIZE, size + SAME_SIZE);
    return reamer ?? missingCutter(job, 'reamer', [size, size], what, path);
  }
  if (make.kind !== 'tap') return null;
  const tap = ofKind(job, 'tap').find((c) => c.thread === make.thread);
  if (tap) return tap;
  if (job.machine.tapping === 'hand') return null;
  return fault({
    code: 'cutter-missing',
    at: { path },
    found: `no tap ${make.thread} among the cutters, needed for ${what}, which the machine is to tap`,
    wanted: `a tap ${make.thread}`,
    remedy: 'add it to "cutters", or set machine.tapping to "hand"',
  });
}

function followerStep(job: Job, hole: Hole, follower: Cutter | null, drill: Cutter, bottom: Mm): HoleStep | null {
  if (follower === null) return null;
  const { make } = hole;
  const common = { cutter: follower, cutting: follower.diameter, open: drill.diameter, bottom };
  if (make.kind === 'tap') return { what: 'tap', ...common, note: make.thread };
  const fit = make.kind === 'ream' || make.kind === 'bore' ? (make.fit ?? '') : '';
  return { what: 'ream', ...common, note: `${fit} over a ${say(job, drill.diameter)} hole` };
}

/** Its tip ends where the wide drill's tip ends: both points have the same angle, so a blind bottom keeps its cone. */
function pilotStep(job: Job, drill: Cutter, bottom: Mm): HoleStep | null {
  const pilot = pilotFor(job, drill);
  if (!pilot) return null;
  const words = `as a pilot for ${say(job, drill.diameter)}`;
  return { what: 'pilot', cutter: pilot, cutting: pilot.diameter, open: 0, bottom, note: words };
}

/** The 90 degree spot drill that leaves the hole's chamfer, where one is wanted and wide enough. */
export function chamferingSpot(job: Job, hole: Hole): Cutter | undefined {
  if (job.part.chamfer === 0 || hole.countersink !== null || hole.counterbore !== null) return undefined;
  if (hole.make.kind === 'bore') return undefined;
  const wide = hole.diameter + 2 * job.part.chamfer;
  // Its point would come out below, and the drill find no metal to start in.
  if (wide / 2 > job.part.thickness - LEAST_BELOW_SPOT) return undefined;
  return ofKind(job, 'spot drill').find((s) => s.pointDeg === 90 && s.diameter >= wide);
}

/** Metal left under a spot for the drill's point to find (mm; common practice). */
const LEAST_BELOW_SPOT: Mm = 0.5;

/**
 * A start for the drill, narrower than the finished hole; or, where a chamfer is wanted and a 90 degree spot drill is wide
 * enough, as wide as the chamfer, so that the hole needs no cutter for it later.
 */
function spotStep(job: Job, hole: Hole, drill: Cutter): HoleStep | null {
  const broad = chamferingSpot(job, hole);
  if (broad) {
    const chamfered = hole.diameter + 2 * job.part.chamfer;
    const words = `to ${say(job, chamfered)} for the chamfer`;
    return { what: 'spot', cutter: broad, cutting: chamfered, open: 0, bottom: -chamfered / 2, note: words };
  }
  const spot = ofKind(job, 'spot drill', 'centre drill')[0];
  if (!spot) return null;
  const wide = Math.min(spot.diameter, drill.diameter * (SPOT_START.high + 0.1));
  const depth = Math.round(pointLength(wide, spot.pointDeg) * 100) / 100;
  return { what: 'spot', cutter: spot, cutting: wide, open: 0, bottom: -depth, note: '' };
}

/** A cone of the wanted angle, wide enough, brought down to the wanted diameter; a flat at its end must go into the hole. */
function countersinkStep(job: Job, hole: Hole, path: string): HoleStep | Problem | null {
  const sink = hole.countersink;
  if (!sink) return null;
  const fits = (c: Cutter) => c.pointDeg === sink.angle && c.diameter >= sink.diameter - 1e-9 && c.tip < hole.diameter;
  const cutter = ofKind(job, 'countersink', 'spot drill', 'chamfer cutter').find(fits);
  if (!cutter) {
    return fault({
      code: 'cutter-missing',
      at: { path },
      found: `no countersink of ${short(sink.angle)} degrees and at least ${say(job, sink.diameter)} in the drawer whose end goes into it, needed for ${holeName(hole)}`,
      wanted: `a countersink of ${short(sink.angle)} degrees, ${say(job, sink.diameter)} or more`,
      remedy: 'add it to "cutters", or leave the countersink out',
    });
  }
  const bottom = -pointLength(sink.diameter - cutter.tip, sink.angle);
  const words = `to ${say(job, sink.diameter)}`;
  return { what: 'countersink', cutter, cutting: sink.diameter, open: hole.diameter, bottom, note: words };
}

function reachProblem(job: Job, hole: Hole, step: HoleStep): Problem[] {
  if (step.what === 'spot' || step.what === 'countersink') return [];
  if (step.what === 'tap' && job.machine.tapping === 'hand') return [];
  const deep = job.stock.above - step.bottom;
  return deep > step.cutter.fluteLength + 1e-9 ? [tooShort(job, step.cutter, deep, holeName(hole))] : [];
}

function noSpot(hole: Hole, path: string): Problem {
  return caution({
    code: 'no-spot',
    at: { path },
    found: `no spot drill or centre drill in the drawer: ${holeName(hole)} starts without one and may wander`,
    wanted: 'a spot drill',
    remedy: 'add one to "cutters"',
  });
}

function noPilot(job: Job, hole: Hole, drill: Cutter, path: string): Problem {
  return note({
    code: 'no-pilot',
    at: { path },
    found: `${holeName(hole)}: no pilot drill of ${say(job, 0.3 * drill.diameter)} to ${say(job, 0.5 * drill.diameter)} in the drawer, so ${say(job, drill.diameter)} is drilled from the solid`,
    remedy: 'feed gently, or add a pilot drill',
  });
}
