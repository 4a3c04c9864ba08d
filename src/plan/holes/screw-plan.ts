/**
 * Holding by screws through the part's own bores: the backing is drilled through the finished bores, in the same setting, so
 * that the holes line up by themselves; then a stop to tap the backing and fit the screws.
 */

import { fault, type Problem } from '../../base/problem.ts';
import { short } from '../../base/text.ts';
import type { Mm } from '../../base/units.ts';
import { distanceToLoop } from '../../geometry/measure/distance.ts';
import type { Cutter, Hole, Job } from '../../part/part.ts';
import { pointLength } from '../../trade/threads/drills.ts';
import { counterboreFor } from '../../trade/threads/heads.ts';
import { findThread, tappingHoleRange } from '../../trade/threads/threads.ts';
import type { PlanContext } from '../context.ts';
import { holeTargets } from '../context.ts';
import type { OperationDraft } from '../draft.ts';
import { missingCutter, nearestCutter } from '../drawer.ts';
import type { Plan, StopReason } from '../plan.ts';
import { INTO_BACKING } from '../profile/profile-plan.ts';
import { holeDraft } from './hole-draft.ts';

export interface ScrewPlan {
  readonly drafts: readonly OperationDraft[];
  /** Before the first pass round the outline. */
  readonly stop: StopReason;
  readonly heads: Plan['heads'];
}

/** Thread engagement in the backing, in screw diameters (1.5-2 d in aluminium, common practice). */
const ENGAGEMENT = 1.5;
/** Backing left under the drill's point. */
const SPARE: Mm = 0.5;
/** A screw must pass the bore with a little play. */
const PLAY: Mm = 0.1;

export function planScrews(
  context: PlanContext,
  profile: Cutter | null,
): ScrewPlan | null | { readonly problems: readonly Problem[] } {
  const { job } = context;
  if (job.hold.by !== 'screws') return null;
  const { through, thread: name } = job.hold;
  const found = findThread(name);
  if (found.kind === 'unknown') return { problems: [unknown(name)] };
  const thread = found.value;
  if (job.under.kind !== 'plate') return { problems: [noBacking(job)] };
  const holes = through.map((i) => job.part.holes[i]!);
  const narrow = holes.find((h) => h.diameter < thread.major + PLAY);
  if (narrow) return { problems: [tooNarrow(narrow.index, narrow.diameter, name, thread.major)] };
  const range = tappingHoleRange(thread);
  const drill = nearestCutter(job, 'drill', thread.tapDrill.diameter, range.least, range.most);
  if (!drill) {
    return {
      problems: [
        missingCutter(job, 'drill', [range.least, range.most], `the ${name} holes in the backing`, 'hold.thread'),
      ],
    };
  }
  const deep = depthInBacking(job, thread.major, drill);
  if (deep < thread.major) return { problems: [thinBacking(job, name, thread.major)] };
  const bottom = job.stock.min[2] - deep - pointLength(drill.diameter, drill.pointDeg);
  const step = {
    what: 'screw holes',
    cutter: drill,
    cutting: drill.diameter,
    open: 0,
    bottom,
    note: `for ${name} in the backing`,
  } as const;
  const targets = holeTargets(context, holes);
  const head = headOf(name, thread.major);
  const inWay = profile ? holes.find((h) => airAtHead(job, h, head, profile) < HEAD_AIR) : undefined;
  if (inWay) return { problems: [headInWay(inWay.index, name, head.radius)] };
  return {
    drafts: [holeDraft(context, step, holes, targets)],
    stop: fitStop(job, name, through, thread.major),
    heads: targets.map((t) => ({ at: t.at, ...head })),
  };
}

/** Air kept between a head, set by hand, and whatever turns. */
const HEAD_AIR: Mm = 0.5;

/** A cap screw's head: ISO 4762 where the table has it, else 1.8 d wide and d high (the same standard's proportions). */
function headOf(name: string, major: Mm): { radius: Mm; top: Mm } {
  const row = counterboreFor(name.split('x')[0]!);
  return { radius: (row?.headDiameter ?? 1.8 * major) / 2, top: row?.headHeight ?? major };
}

/** Faults where the cone that breaks the outline's top edge, or what is above it, would meet a head that is fitted by then. */
export function chamferAtHeads(job: Job, chamfers: readonly OperationDraft[]): Problem[] {
  if (job.hold.by !== 'screws') return [];
  const { through, thread: name } = job.hold;
  const found = findThread(name);
  if (found.kind === 'unknown') return [];
  const head = headOf(name, found.value.major);
  const met = through.find((i) =>
    chamfers.some(({ operation: o }) => {
      if (o.target.kind !== 'edges' || !o.target.outline) return false;
      const cutter = job.cutters.find((c) => c.number === o.cutter)!;
      const { at } = job.part.holes[i]!;
      const toAxis = distanceToLoop(job.part.outline.loop, at) + o.target.reach;
      return toAxis - widthAt(cutter, head.top - o.depths.at(-1)!) - head.radius < HEAD_AIR;
    }),
  );
  return met === undefined ? [] : [headInWay(met, name, head.radius)];
}

/** Greatest radius of a cutter of 90 degrees, its shank and its holder up to a height above its tip. */
function widthAt(cutter: Cutter, height: Mm): Mm {
  const cone = Math.min(cutter.diameter / 2, cutter.tip / 2 + height);
  const shank = height > cutter.fluteLength ? cutter.shank / 2 : 0;
  const holder = height > cutter.stickOut ? cutter.holder.diameter / 2 : 0;
  return Math.max(cone, shank, holder);
}

/** Gap between the head and the cutter, its shank, or its holder where it comes down so far, as they pass along the edge. */
function airAtHead(job: Job, hole: Hole, head: { radius: Mm; top: Mm }, cutter: Cutter): Mm {
  const toAxis = distanceToLoop(job.part.outline.loop, hole.at) + cutter.diameter / 2;
  const lowest = job.part.thickness + cutterIntoBacking(job);
  const holderIsLow = cutter.stickOut - lowest < head.top;
  const widest = Math.max(cutter.diameter, cutter.shank, holderIsLow ? cutter.holder.diameter : 0) / 2;
  return toAxis - widest - head.radius;
}

function cutterIntoBacking(job: Job): Mm {
  return job.under.kind === 'plate' ? INTO_BACKING : 0;
}

function headInWay(index: number, name: string, radius: Mm): Problem {
  return fault({
    code: 'screw-head-in-way',
    at: { path: 'hold' },
    found: `the head of a ${name} screw in hole ${index + 1}, ${short(2 * radius)} mm wide, stands where the cutter, its shank or its holder passes`,
    wanted: `${short(HEAD_AIR)} mm of air`,
    remedy: 'use a thinner screw, a longer or thinner cutter, or another hole',
  });
}

function depthInBacking(job: Job, major: Mm, drill: Cutter): Mm {
  const room = job.under.thickness - pointLength(drill.diameter, drill.pointDeg) - SPARE;
  return Math.min(ENGAGEMENT * major, room);
}

function fitStop(job: Job, name: string, through: readonly number[], major: Mm): StopReason {
  const head = headOf(name, major).top;
  const which = through.map((i) => i + 1).join(', ');
  return {
    kind: 'screws',
    lines: [
      `Tap the backing ${name} through ${through.length > 1 ? 'holes' : 'hole'} ${which}${job.places.length > 1 ? ' of every part' : ''} and clear the swarf`,
      `Fit cap screws ${name} with their heads down on the part, heads no higher than ${short(head)} mm, and tighten`,
      'Check that no part moves before going on',
    ],
  };
}

function unknown(name: string): Problem {
  return fault({
    code: 'unknown-thread',
    at: { path: 'hold.thread' },
    found: `the thread "${name}"`,
    wanted: 'a listed thread',
    remedy: 'name one such as M4',
  });
}

function noBacking(job: Job): Problem {
  return fault({
    code: 'no-backing',
    at: { path: 'under' },
    found: `screws are asked for with ${job.under.kind} under the stock`,
    wanted: 'a backing plate to screw into',
    remedy: 'set "under" to a plate',
  });
}

function tooNarrow(index: number, bore: Mm, name: string, major: Mm): Problem {
  return fault({
    code: 'screw-too-wide',
    at: { path: 'hold.thread' },
    found: `a ${name} screw (${short(major)} mm) in hole ${index + 1} of ${short(bore)} mm`,
    wanted: 'a screw that passes the hole with some play',
    remedy: 'choose a thinner screw or another hole',
  });
}

function thinBacking(job: Job, name: string, major: Mm): Problem {
  return fault({
    code: 'backing-too-thin',
    at: { path: 'under.thickness' },
    found: `a backing of ${short(job.under.thickness)} mm for ${name} screws`,
    wanted: `at least ${short(major + 2)} mm`,
    remedy: 'use a thicker backing plate or thinner screws',
  });
}
