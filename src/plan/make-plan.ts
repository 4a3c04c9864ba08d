/** From a job to its plan: operations in a safe order. */
import { bad, caution, fault, good, type Outcome, type Problem } from '../base/problem.ts';
import { Tables, table } from '../base/tables.ts';
import type { Mm } from '../base/units.ts';
import type { Job } from '../part/part.ts';
import { findMaterial } from '../trade/materials/materials.ts';
import { type PlanContext, planContext } from './context.ts';
import { copiesApart, mouthsApart } from './copies-apart.ts';
import type { OperationDraft } from './draft.ts';
import { holeDrafts } from './holes/hole-draft.ts';
import { type HolePlan, planHole } from './holes/hole-plan.ts';
import { chamferAtHeads, planScrews, type ScrewPlan } from './holes/screw-plan.ts';
import { tapBench, tapStop } from './holes/tap-lines.ts';
import { swarfStop } from './measure.ts';
import { tabRampOf } from './milling/ramp.ts';
import { boreWay } from './openings/bore-way.ts';
import { roundedCorners } from './openings/corners.ts';
import { type Openings, planOpenings } from './openings/openings-plan.ts';
import { chooseRound, type RestCorners } from './openings/rest-corners.ts';
import { type Ease, NO_EASE, type Operation, type Plan, type StopReason } from './plan.ts';
import { finishDrafts, lightenDrafts, roughDrafts } from './profile/profile-draft.ts';
import type { ProfileChoice } from './profile/profile-plan.ts';

/**
 * Order (design section 5): spot, drill, ream while the plate is whole; then rough every copy, because drawn stock
 * springs when its skin is cut; then finish every copy; then thin the tabs. No program cuts the last support.
 * `ease`: what the holding carries in the plane with its wanted margin, once that is known; passes beside the part are
 * eased until they keep it.
 */
export function makePlan(job: Job, ease: Ease = NO_EASE, tables: Tables = new Tables()): Outcome<Plan> {
  const material = findMaterial(job.material);
  if (material.kind === 'unknown')
    return bad(
      fault({
        code: 'unknown-material',
        at: { path: 'material' },
        found: job.material,
        wanted: 'a listed material',
        remedy: '',
      }),
    );
  const context = planContext(job, material.value, tables);
  const ready = tables.once(FIXED, [job], () => fixedPlan(context));
  if ('problems' in ready) return bad(...ready.problems);
  const [plan, told] = joined(context, ready, ease);
  return good(plan, [...ready.told, ...told]);
}

/** All of a plan that does not hang on how hard the part may be pushed: the same each time it is made again within a budget. */
interface FixedPlan {
  readonly holes: readonly HolePlan[];
  readonly round: { readonly profile: ProfileChoice; readonly corners: RestCorners };
  readonly openings: Openings;
  readonly screws: ScrewPlan | null;
  readonly told: readonly Problem[];
}

type RefusedPlan = { readonly problems: readonly Problem[] };

const FIXED = table<[job: Job], FixedPlan | RefusedPlan>('what no budget of force changes');

function fixedPlan(context: PlanContext): FixedPlan | RefusedPlan {
  const { job } = context;
  const ways = new Map(
    job.part.holes
      .filter((h) => h.make.kind === 'bore')
      .map((h) => [h.index, boreWay(context, h, `part.holes[${h.index}]`)]),
  );
  const drilled = job.part.holes.filter((h) => drills(ways.get(h.index)));
  const holes = drilled.map((h) => planHole(job, h, `part.holes[${h.index}]`));
  const round = chooseRound(context);
  const openings = planOpenings(context, (h) => !drilled.includes(h));
  const screws = planScrews(context, 'problems' in round ? null : round.profile.cutter);
  const problems = [...ways.values(), ...holes, round, openings, screws].flatMap((x) =>
    x && 'problems' in x ? x.problems : [],
  );
  if (problems.length > 0 || 'problems' in round || 'problems' in openings || (screws && 'problems' in screws)) {
    return { problems };
  }
  const near = [
    ...copiesApart(context, slotOf(round.profile)),
    ...mouthsApart(context, openings.open),
    ...chamferAtHeads(job, openings.chamfer),
  ];
  if (near.length > 0) return { problems: near };
  const told = [...ways.values()].flatMap((w) => ('told' in w ? w.told : []));
  return { holes: holes as HolePlan[], round, openings, screws, told };
}

/** From the finished edge to the far wall of the slot round it. */
function slotOf({ cutter, allowance, widen }: ProfileChoice): Mm {
  return cutter.diameter + allowance + widen;
}

/** Every hole but the bores that are milled. */
function drills(way: ReturnType<typeof boreWay> | undefined): boolean {
  return way === undefined || ('kind' in way && way.kind === 'ream');
}

function joined(context: PlanContext, fixed: FixedPlan, ease: Ease): [Plan, Problem[]] {
  const { job } = context;
  const { holes, openings, screws } = fixed;
  const { profile, corners } = fixed.round;
  const request = { ...context, profile, ease };
  // The corners are the first of the outline that is cut: what holds the part from then on is fitted before them.
  const [first, ...outline] = [...corners.drafts, ...roughDrafts(request)];
  const drafts: OperationDraft[] = [
    ...openings.face,
    ...holeDrafts(context, holes),
    ...openings.inside,
    ...(screws?.drafts ?? []),
    stopped(stopped(first!, screws?.stop ?? null), toTap(context, holes)),
    ...outline,
    ...finishDrafts(request),
    ...openings.chamfer,
    ...lightenDrafts(request),
  ];
  const operations = brushed(drafts);
  const used = [...new Set(operations.map((o) => o.cutter))];
  const cutters = used.map((n) => job.cutters.find((c) => c.number === n)!);
  const plan: Plan = {
    setups: [{ name: 'upper face', operations, edge: null }],
    cutters,
    climb: context.climb,
    profileBottom: profile.bottom,
    slotWidth: slotOf(profile),
    touchRadius: Math.max(...cutters.map((c) => c.diameter)) / 2,
    tabRamp: tabRampOf(profile.cutter),
    heads: screws?.heads ?? [],
    bare: corners.bare,
    bench: benchOf(job, holes),
  };
  const told = [
    ...drafts.flatMap((d) =>
      d.cautions.map((c) => caution({ code: 'cutting-data', found: c, wanted: '', remedy: '' })),
    ),
    ...holes.flatMap((h) => h.told),
    ...roundedCorners(job, job.part.outline.loop, 'outside', corners.radius, 'of the outline'),
    ...openings.notes,
  ];
  return [plan, told];
}

/** Every cutter after the first is touched off: on swarf it would stand too high. */
export function brushed(drafts: readonly OperationDraft[]): Operation[] {
  return drafts.map(({ operation }, id) => {
    const fresh = id > 0 && operation.cutter !== drafts[id - 1]!.operation.cutter && !operation.byHand;
    const stop = operation.stopBefore;
    if (!fresh || (stop !== null && stop.kind !== 'swarf')) return { ...operation, id };
    return { ...operation, id, stopBefore: swarfStop(BRUSH, ...(stop?.lines ?? []).filter((l) => l !== BRUSH)) };
  });
}

const BRUSH = 'Brush the swarf away before touching off';

function benchOf(job: Job, holes: readonly HolePlan[]): string[] {
  if (job.machine.tapping === 'machine') return [];
  return holes.filter((h) => h.hole.make.kind === 'tap').map((h) => tapBench(job, h.hole));
}

function stopped(draft: OperationDraft, stop: StopReason | null): OperationDraft {
  if (stop === null) return draft;
  const there = draft.operation.stopBefore;
  const both = there === null ? stop : { ...there, lines: [...stop.lines, ...there.lines] };
  return { ...draft, operation: { ...draft.operation, stopBefore: both } };
}

function toTap(context: PlanContext, holes: readonly HolePlan[]): StopReason | null {
  const left = holes.filter((h) => h.tapAtStop).map((h) => h.hole);
  return left.length > 0 ? tapStop(context, left) : null;
}
