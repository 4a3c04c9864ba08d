/** Holes from the edge, a set-up each: the part on edge, spotted, drilled and followed like any other hole. */

import { cosine, sine } from '../../base/angles.ts';
import { bad, caution, fault, good, type Outcome, type Problem } from '../../base/problem.ts';
import { Tables } from '../../base/tables.ts';
import { short } from '../../base/text.ts';
import { SAME_POINT } from '../../base/tolerance.ts';
import { type Mm, type Newton, toRad } from '../../base/units.ts';
import { drillChip, drillLoad } from '../../mechanics/cutting/drilling.ts';
import { wearFactor } from '../../mechanics/cutting/force-law.ts';
import type { Job } from '../../part/part.ts';
import { FRICTION, WANTED_MARGIN } from '../../trade/holding-rules.ts';
import { findMaterial, hardestSet, type Material } from '../../trade/materials/materials.ts';
import { pointLength } from '../../trade/threads/drills.ts';
import type { PlanContext } from '../context.ts';
import { planContext } from '../context.ts';
import type { OperationDraft } from '../draft.ts';
import { holeDrafts } from '../holes/hole-draft.ts';
import { planHole } from '../holes/hole-plan.ts';
import { brushed } from '../make-plan.ts';
import type { Plan, SetupPlan } from '../plan.ts';
import { say } from '../words.ts';
import { standOf, type UngrippedStand } from './edge-set-up.ts';

/** The plan with a set-up for each hole from the edge after those it has; refused like any hole, or where the part itself is in the way. */
export function withEdgeHoles(job: Job, plan: Plan, tables: Tables = new Tables()): Outcome<Plan> {
  if (job.part.edgeHoles.length === 0) return good(plan);
  const material = findMaterial(job.material);
  if (material.kind === 'unknown') throw new Error('an unknown material after the plan: a bug in the plan stage');
  const made = job.part.edgeHoles.map((hole) => planEdge(material.value, standOf(job, hole), tables));
  const faults = made.flatMap((m) => ('problems' in m ? m.problems : []));
  if (faults.length > 0) return bad(...faults);
  const setups = [...plan.setups];
  const bench = [...plan.bench];
  const told: Problem[] = [];
  for (const m of made) {
    if ('problems' in m) continue;
    const from = setups.reduce((sum, s) => sum + s.operations.length, 0);
    setups.push({ ...m.setup, operations: m.setup.operations.map((o) => ({ ...o, id: o.id + from })) });
    bench.push(...m.bench);
    told.push(...m.told);
    told.push(...intoHoles(job, m.setup));
  }
  const used = new Set(setups.flatMap((s) => s.operations.map((o) => o.cutter)));
  const cutters = [...plan.cutters, ...job.cutters.filter((c) => used.has(c.number) && !plan.cutters.includes(c))];
  return good({ ...plan, setups, cutters, bench }, told);
}

interface EdgePlan {
  readonly setup: SetupPlan;
  readonly bench: readonly string[];
  readonly told: readonly Problem[];
}

function planEdge(
  material: Material,
  stand: UngrippedStand,
  tables: Tables,
): EdgePlan | { readonly problems: readonly Problem[] } {
  const { job, hole } = stand;
  const context = planContext(job, material, tables);
  const path = `part.edgeHoles[${hole.index}]`;
  const planned = planHole(job, job.part.holes[0]!, path);
  if ('problems' in planned) return planned;
  const [first, ...rest] = holeDrafts(context, [planned]);
  const blocked = [first!, ...rest].flatMap((d) => inTheWay(stand, d, path));
  if (blocked.length > 0) return { problems: blocked };
  const grip = gripFor(context, [first!, ...rest]);
  const stood: OperationDraft = {
    ...first!,
    operation: { ...first!.operation, stopBefore: { kind: 'turn over', lines: standLines(stand, grip) } },
  };
  const { higher, ...own } = stand;
  const name = `edge hole ${hole.index + 1}`;
  const operations = brushed([stood, ...rest]);
  return {
    setup: { name, operations, edge: { ...own, grip } },
    bench: planned.tapAtStop ? [`Tap ${name} by hand while the part still stands in the jaws`] : [],
    told: planned.told,
  };
}

/** A drill that comes out into another hole tears its wall: told, since many arms want just that (a grub screw on a pin). */
function intoHoles(job: Job, { edge, operations }: SetupPlan): Problem[] {
  const { hole } = edge!;
  const deep = -Math.min(...operations.flatMap((o) => o.depths));
  const { source } = job.part.outline;
  if (source.kind !== 'bosses') return [];
  const { at, radius } = source.bosses[hole.boss]!;
  const up = { x: cosine(toRad(hole.directionDeg)), y: sine(toRad(hole.directionDeg)) };
  return job.part.holes.flatMap((h) => {
    const [dx, dy] = [h.at.x - at.x, h.at.y - at.y];
    const aside = Math.abs(dx * up.y - dy * up.x);
    const nearest = radius - (dx * up.x + dy * up.y) - h.diameter / 2;
    const meets = aside < (h.diameter + hole.diameter) / 2 && nearest < deep && nearest > -h.diameter;
    if (!meets || h.depth !== null) return [];
    const found = `edge hole ${hole.index + 1} runs into hole ${h.index + 1}, whose wall it tears`;
    const remedy = 'feed gently as it breaks in, then deburr the bore, or pass its reamer again by hand';
    return [
      caution({
        code: 'edge-hole-into-hole',
        at: { path: `part.edgeHoles[${hole.index}]` },
        found,
        wanted: 'a clean bore',
        remedy,
      }),
    ];
  });
}

/** What of a cutter is wider than its hole, at the bottom of the hole, against the part where it stands higher than the crown. */
function inTheWay({ job, hole, higher }: UngrippedStand, { operation }: OperationDraft, path: string): Problem[] {
  const cutter = job.cutters.find((c) => c.number === operation.cutter)!;
  const bottom = operation.depths.at(-1)!;
  const bodies = [
    { name: 'the body', radius: cutter.diameter / 2, low: bottom + pointLength(cutter.diameter, cutter.pointDeg) },
    { name: 'the shank', radius: cutter.shank / 2, low: bottom + cutter.fluteLength },
    { name: 'the holder', radius: cutter.holder.diameter / 2, low: bottom + cutter.stickOut },
  ].filter((b) => b.radius > hole.diameter / 2 + SAME_POINT);
  for (const b of bodies) {
    const met = higher.filter((p) => Math.abs(p.x) < b.radius + AIR && p.z > b.low - AIR);
    if (met.length === 0) continue;
    const high = Math.max(...met.map((p) => p.z));
    const found = `${b.name} of cutter ${cutter.number} meets the part itself, which stands ${say(job, high)} above the mouth of edge hole ${hole.index + 1}`;
    return [
      fault({
        code: 'edge-hole-blocked',
        at: { path },
        found,
        wanted: 'room beside the hole',
        remedy: 'use a longer cutter, or turn the hole',
      }),
    ];
  }
  return [];
}

/** Air kept between what turns and what stands (common practice; the check asks for the same). */
const AIR: Mm = 0.5;

/** What the jaws must press with so that no drill's thrust slips the part between them: two faces rub. Rounded up to 10 N. */
function gripFor(context: PlanContext, drafts: readonly OperationDraft[]): Newton {
  const { material } = context;
  const thrusts = drafts.map(({ operation: o }) => (o.what === 'drill' ? thrustOf(context, o) : 0));
  const most = Math.max(0, ...thrusts);
  const friction = FRICTION.smooth.ground.value * material.frictionFactor.value;
  return Math.ceil((WANTED_MARGIN.slip.value * most) / (2 * friction) / 10) * 10;
}

/** As from the solid, with a worn point: errs high. */
function thrustOf(context: PlanContext, operation: OperationDraft['operation']): Newton {
  const { job, material } = context;
  const cutter = job.cutters.find((c) => c.number === operation.cutter)!;
  const perTurn = operation.feed / operation.speed;
  const pointAngle = toRad(cutter.pointDeg);
  const metal = hardestSet(material, drillChip(perTurn, pointAngle));
  const drill = { diameter: cutter.diameter, pointAngle, helix: toRad(cutter.helixDeg) };
  return drillLoad(drill, perTurn, metal, wearFactor(cutter.material)).thrust;
}

/** Shown at the stop before the set-up's first cutter. */
function standLines(stand: UngrippedStand, grip: Newton): string[] {
  const { hole, job, radius, centres } = stand;
  const copies = stand.parts;
  const boss = `boss ${hole.boss + 1}`;
  return [
    'The part is free of its plate by now, and its edge is filed',
    `Edge hole ${hole.index + 1}: stand the part on edge between smooth jaws, ${boss} up, the hole upright: ${short(hole.directionDeg, 3)} degrees from the part's X`,
    copies.some((mirror) => mirror)
      ? 'Upper face to the front; of mirrored parts the lower face'
      : 'Upper face to the front',
    ...centres.flatMap((c, i) =>
      i === hole.boss ? [] : [`The centre of boss ${i + 1} then lies at X ${say(job, c.x)}, Z ${say(job, c.z)}`],
    ),
    `Jaws below the middle of ${boss}, at Z ${say(job, -radius)} or lower, on a bar or parallel; grip with ${grip} N or more`,
    `X 0 in the middle of ${boss}, Y 0 in the middle of the thickness, Z 0 on the crown of ${boss}`,
    ...(copies.length > 1 ? [`Once for each of the ${copies.length} parts`] : []),
  ];
}
