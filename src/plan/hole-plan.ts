/** What each hole needs: spot, drill, ream, tap; with the drill found in the drawer and every depth worked out. */
import { fault, type Problem } from '../base/problem.ts';
import { short } from '../base/text.ts';
import type { Mm } from '../base/units.ts';
import type { Cutter, Hole, Job } from '../part/part.ts';
import { pointLength } from '../trade/drills.ts';
import { BREAKTHROUGH, REAM_OVERRUN, reamingStock, SPOT_START } from '../trade/hole-rules.ts';
import { findThread, runOutOf, tappingHoleRange } from '../trade/threads.ts';
import { missingCutter, nearestCutter, ofKind, tooShort } from './drawer.ts';

/** One cutter going down one hole. */
export interface HoleStep {
  readonly what: 'spot' | 'drill' | 'ream' | 'countersink' | 'screw holes';
  readonly cutter: Cutter;
  /** Diameter that cuts at the bottom of the step. */
  readonly cutting: Mm;
  /** z of the cutter's tip at the bottom. */
  readonly bottom: Mm;
  readonly note: string;
}

export interface HolePlan {
  readonly hole: Hole;
  readonly steps: readonly HoleStep[];
  /** Left to the bench, a sentence each. */
  readonly bench: readonly string[];
  readonly cautions: readonly string[];
}

/** How far under its face a plain drill may be off and still be called that size: one stock step of twist drills. */
const DRILL_SAME: Mm = 0.005;
/** Material left under a blind hole's point at the least, so that it does not break through. */
const BLIND_FLOOR: Mm = 0.2;

export function planHole(job: Job, hole: Hole, path: string): HolePlan | { readonly problems: readonly Problem[] } {
  const drill = drillFor(job, hole, path);
  if ('severity' in drill) return { problems: [drill] };
  const problems: Problem[] = [];
  const steps: HoleStep[] = [];
  const spot = spotStep(job, hole, drill);
  const cautions = spot
    ? []
    : [`no spot drill or centre drill in the drawer: hole ${hole.index + 1} starts without one`];
  if (spot) steps.push(spot);
  const bottom = drillBottom(job, hole, drill);
  if (hole.depth !== null && bottom < -job.part.thickness + BLIND_FLOOR)
    problems.push(breaksThrough(job, hole, bottom, path));
  steps.push({ what: 'drill', cutter: drill, cutting: drill.diameter, bottom, note: drillNote(hole) });
  if (hole.make.kind === 'ream') {
    const reamer = nearestCutter(
      job,
      'reamer',
      hole.make.nominal,
      hole.make.nominal - DRILL_SAME,
      hole.make.nominal + DRILL_SAME,
    );
    if (!reamer)
      problems.push(missingCutter(job, 'reamer', hole.make.nominal, hole.make.nominal, `hole ${hole.index + 1}`, path));
    else steps.push(reamStep(job, hole, reamer, drill));
  }
  const sink = countersinkStep(job, hole, path);
  if (sink) {
    if ('severity' in sink) problems.push(sink);
    else steps.push(sink);
  }
  for (const step of steps) {
    const deep = job.stock.above - step.bottom;
    if (deep > step.cutter.fluteLength + 1e-9 && step.what !== 'spot' && step.what !== 'countersink')
      problems.push(tooShort(step.cutter, deep, `hole ${hole.index + 1}`));
  }
  return problems.length > 0 ? { problems } : { hole, steps, bench: benchWork(hole), cautions };
}

/** The drill that makes the hole, or leaves what the reamer or tap wants. */
function drillFor(job: Job, hole: Hole, path: string): Cutter | Problem {
  const what = `hole ${hole.index + 1}`;
  const { least, wanted, most, purpose } = drillRange(hole);
  const drill = nearestCutter(job, 'drill', wanted, least, most);
  return drill ?? missingCutter(job, 'drill', least, most, `${what}${purpose}`, path);
}

function drillRange(hole: Hole): { least: Mm; wanted: Mm; most: Mm; purpose: string } {
  const make = hole.make;
  switch (make.kind) {
    case 'ream': {
      const stock = reamingStock(make.nominal);
      const wanted = make.nominal - stock.usual;
      return { least: make.nominal - stock.high, wanted, most: make.nominal - stock.low, purpose: ' before reaming' };
    }
    case 'tap': {
      const thread = findThread(make.thread);
      const range =
        thread.kind === 'found' ? tappingHoleRange(thread.value) : { least: hole.diameter, most: hole.diameter };
      return { least: range.least, wanted: hole.diameter, most: range.most, purpose: ` before tapping ${make.thread}` };
    }
    case 'clear':
      return {
        least: hole.limits?.least ?? hole.diameter,
        wanted: hole.diameter,
        most: hole.limits?.most ?? hole.diameter,
        purpose: ` to clear ${make.screw}`,
      };
    default:
      return {
        least: hole.diameter - DRILL_SAME,
        wanted: hole.diameter,
        most: hole.diameter + DRILL_SAME,
        purpose: '',
      };
  }
}

function drillBottom(job: Job, hole: Hole, drill: Cutter): Mm {
  const point = pointLength(drill.diameter, drill.pointDeg);
  if (hole.depth === null) return -(job.part.thickness + point + BREAKTHROUGH.low);
  return -(hole.depth + extraDepth(hole) + point);
}

/** A blind tapped hole is drilled deeper than its full thread by the run-out (DIN 76-2). */
function extraDepth(hole: Hole): Mm {
  if (hole.make.kind !== 'tap') return 0;
  const thread = findThread(hole.make.thread);
  return thread.kind === 'found' ? runOutOf(thread.value).short : 0;
}

function reamStep(job: Job, hole: Hole, reamer: Cutter, drill: Cutter): HoleStep {
  const bottom = hole.depth === null ? -(job.part.thickness + reamer.lead + REAM_OVERRUN.low) : -hole.depth;
  return {
    what: 'ream',
    cutter: reamer,
    cutting: reamer.diameter,
    bottom,
    note: `${hole.make.kind === 'ream' ? hole.make.fit : ''} over a ${short(drill.diameter)} hole`,
  };
}

/**
 * A start for the drill, narrower than the finished hole; or, where a chamfer is wanted and a 90 degree spot drill is wide
 * enough, as wide as the chamfer, so that the hole needs no cutter for it later.
 */
function spotStep(job: Job, hole: Hole, drill: Cutter): HoleStep | null {
  const spots = ofKind(job, 'spot drill', 'centre drill');
  const chamfered = hole.diameter + 2 * job.part.chamfer;
  const broad = chamferingSpot(job, hole);
  if (broad) {
    return {
      what: 'spot',
      cutter: broad,
      cutting: chamfered,
      bottom: -chamfered / 2,
      note: `to ${short(chamfered)} for the chamfer`,
    };
  }
  const spot = spots[0];
  if (!spot) return null;
  const wide = Math.min(spot.diameter, drill.diameter * (SPOT_START.high + 0.1));
  const depth = pointLength(wide, spot.pointDeg);
  return { what: 'spot', cutter: spot, cutting: wide, bottom: -Math.round(depth * 100) / 100, note: '' };
}

/** The 90 degree spot drill that leaves the hole's chamfer, where one is wanted and wide enough. */
export function chamferingSpot(job: Job, hole: Hole): Cutter | undefined {
  if (job.part.chamfer === 0 || hole.countersink !== null || hole.counterbore !== null) return undefined;
  if (hole.make.kind === 'bore') return undefined;
  const wide = hole.diameter + 2 * job.part.chamfer;
  return ofKind(job, 'spot drill').find((s) => s.pointDeg === 90 && s.diameter >= wide);
}

/** A cone of the wanted angle, wide enough, brought down to the wanted diameter. */
function countersinkStep(job: Job, hole: Hole, path: string): HoleStep | Problem | null {
  const sink = hole.countersink;
  if (!sink) return null;
  const fits = (c: Cutter) => c.pointDeg === sink.angle && c.diameter >= sink.diameter - 1e-9;
  const cutter = ofKind(job, 'countersink', 'spot drill', 'chamfer cutter').find(fits);
  if (!cutter) {
    return fault(
      'cutter-missing',
      `no countersink of ${short(sink.angle)} degrees and at least ${short(sink.diameter)} mm in the drawer, needed for hole ${hole.index + 1}`,
      `a countersink of ${short(sink.angle)} degrees, ${short(sink.diameter)} mm or more`,
      'add it to "cutters", or leave the countersink out',
      { path },
    );
  }
  const bottom = -pointLength(sink.diameter, sink.angle);
  return { what: 'countersink', cutter, cutting: sink.diameter, bottom, note: `to ${short(sink.diameter)}` };
}

function drillNote(hole: Hole): string {
  switch (hole.make.kind) {
    case 'ream':
      return `before the ${short(hole.make.nominal)} reamer`;
    case 'tap':
      return `for ${hole.make.thread}`;
    case 'clear':
      return `to clear ${hole.make.screw}`;
    default:
      return '';
  }
}

function benchWork(hole: Hole): string[] {
  if (hole.make.kind !== 'tap') return [];
  return [
    `Tap hole ${hole.index + 1} ${hole.make.thread}${hole.depth === null ? ' through' : `, ${short(hole.depth)} mm of full thread`} by hand while the part is still in the plate`,
  ];
}

function breaksThrough(job: Job, hole: Hole, bottom: Mm, path: string): Problem {
  return fault(
    'blind-too-deep',
    `hole ${hole.index + 1}: the drill's point reaches ${short(-bottom)} mm in a part ${short(job.part.thickness)} mm thick`,
    `a point that ends at least ${short(BLIND_FLOOR)} mm above the lower face`,
    'make the hole shallower, or through (leave out "depth")',
    { path },
  );
}
