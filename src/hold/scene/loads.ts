/** What each pass along the edge does to the part: forces from the passes really planned, and the state they meet. */
import { table } from '../../base/tables.ts';
import { type Mm, toRad } from '../../base/units.ts';
import { climb, conventional, type MillingCut, SLOT } from '../../mechanics/cutting/cut.ts';
import { cutterDeflection } from '../../mechanics/cutting/deflection.ts';
import { engagementInside, engagementStraight } from '../../mechanics/cutting/engagement.ts';
import { forceCases } from '../../mechanics/cutting/force.ts';
import { forceLaws, wearFactor } from '../../mechanics/cutting/force-law.ts';
import { furthest } from '../../mechanics/held/furthest.ts';
import { type ForceSet, forceSet } from '../../mechanics/held/held-state.ts';
import type { Cutter, Job } from '../../part/part.ts';
import type { Operation } from '../../plan/plan.ts';
import { WANTED_MARGIN, WANTED_MOVEMENT } from '../../trade/holding-rules.ts';
import type { Material } from '../../trade/materials/materials.ts';
import { CUTTER_MATERIALS } from '../../trade/milling-rules.ts';
import type { Moment } from '../holding.ts';
import type { HoldScene } from './scene.ts';

/** A pass before its state is known. */
export type Pass = Omit<Moment, 'state'> & {
  /** Metal left below this pass, down to the plate's lower face; 0 from the through pass on. */
  readonly below: Mm;
};

/** Passes that load the edge, in running order. `floor`: metal that every pass leaves standing below. */
export function passesOf(scene: HoldScene, floor: Mm, tabHeights: TabHeights | null): readonly Pass[] {
  return scene.plan.setups
    .flatMap((s) => s.operations)
    .flatMap((op) => passesOfOperation(scene, op, floor, tabHeights));
}

export interface TabHeights {
  readonly cut: Mm;
  readonly left: Mm;
  readonly count: number;
}

function passesOfOperation(scene: HoldScene, op: Operation, floor: Mm, tabs: TabHeights | null): Pass[] {
  switch (op.what) {
    case 'rough':
      return levelsOf(op).map((level) => roughing(scene, op, level, floor));
    case 'finish':
      return levelsOf(op).map((level) => finishing(scene, op, level, floor));
    case 'chamfer':
      return op.target.kind === 'edges' ? [chamfering(scene, op, floor)] : [];
    case 'lighten':
      return tabs === null || tabs.left >= tabs.cut
        ? []
        : Array.from({ length: tabs.count }, (_, i) => lightening(scene, op, i, tabs));
    default:
      return [];
  }
}

/** One depth of an operation. */
interface DepthLevel {
  readonly pass: number;
  readonly top: Mm;
  readonly z: Mm;
}

function levelsOf({ from, depths }: Operation): DepthLevel[] {
  return depths.map((z, pass) => ({ pass, top: pass === 0 ? from : depths[pass - 1]!, z }));
}

function roughing(scene: HoldScene, op: Operation, { pass, top, z }: DepthLevel, floor: Mm): Pass {
  const cutter = cutterOf(scene, op);
  const engaged = engagedDepth(scene, top, z, floor);
  const below = belowPass(scene, z, floor);
  const cases = casesOf(scene, cutter, cutOf(scene, cutter, op, engaged, SLOT));
  return {
    kind: below > 0 ? 'solid below' : 'through',
    operation: op.id,
    pass,
    below,
    z: middle(scene, top, z),
    forces: cases.forces,
    hollowForces: cases.forces,
    peak: cases.peak,
    wanted: { margin: wantedMargin(scene.material, 'tab roughing'), movement: WANTED_MOVEMENT.roughing.value },
    cutterDeflection: bend(cutter, cases.across, engaged),
  };
}

function finishing(scene: HoldScene, op: Operation, { pass, top, z }: DepthLevel, floor: Mm): Pass {
  const cutter = cutterOf(scene, op);
  const engaged = engagedDepth(scene, top, z, floor);
  const ae = Math.min(op.widthOfCut, cutter.diameter);
  const spanAt = (phi: number) => (scene.plan.climb ? climb(phi) : conventional(phi));
  const flat = cutOf(scene, cutter, op, engaged, spanAt(engagementStraight(cutter.diameter, ae)));
  const cases = casesOf(scene, cutter, flat);
  const hollow = tightestHollow(scene);
  // In a hollow the cutter bites wider; the path slows down there no further than its feed factor allows.
  const inside = engagementInside(Math.max(hollow - cutter.diameter / 2, 1e-6), cutter.diameter / 2, ae);
  const wide = hollow === Number.POSITIVE_INFINITY ? cases : casesOf(scene, cutter, { ...flat, span: spanAt(inside) });
  return {
    kind: 'finishing',
    operation: op.id,
    pass,
    below: belowPass(scene, scene.finish.depths.at(-1)!, floor),
    z: middle(scene, top, z),
    forces: cases.forces,
    hollowForces: wide.forces,
    peak: Math.max(cases.peak, wide.peak),
    wanted: { margin: wantedMargin(scene.material, 'tab finishing'), movement: WANTED_MOVEMENT.finishing.value },
    cutterDeflection: bend(cutter, cases.across, engaged),
  };
}

/** A light cut of triangular section: as a side cut of the leg's depth and half its width (equal area). */
function chamfering(scene: HoldScene, op: Operation, floor: Mm): Pass {
  const cutter = cutterOf(scene, op);
  const leg = scene.job.part.chamfer;
  const reach = op.target.kind === 'edges' ? op.target.reach : 0;
  const diameter = 2 * (reach + leg);
  const ae = Math.min(leg / 2, diameter);
  const span = (scene.plan.climb ? climb : conventional)(engagementStraight(diameter, ae));
  const cut: MillingCut = { ...cutOf(scene, cutter, op, leg, span), diameter, helix: 0 };
  const cases = casesOf(scene, cutter, cut);
  return {
    kind: 'chamfer',
    operation: op.id,
    pass: 0,
    below: belowPass(scene, scene.finish.depths.at(-1)!, floor),
    z: -leg / 2,
    forces: cases.forces,
    hollowForces: cases.forces,
    peak: cases.peak,
    wanted: { margin: wantedMargin(scene.material, 'tab finishing'), movement: WANTED_MOVEMENT.finishing.value },
    cutterDeflection: 0,
  };
}

/** The cutter slots the tab's own top, full width: the force is on the tab itself. */
function lightening(scene: HoldScene, op: Operation, tab: number, tabs: TabHeights): Pass {
  const cutter = cutterOf(scene, op);
  const depth = Math.max(0.05, deepestStep(scene.bottom + tabs.cut + scene.thinnest, op.depths));
  const cut = cutOf(scene, cutter, op, depth, SLOT);
  const cases = casesOf(scene, cutter, cut);
  return {
    kind: 'lightening',
    operation: op.id,
    pass: tab,
    below: 0,
    z: scene.bottom + (tabs.cut + tabs.left) / 2,
    forces: cases.forces,
    hollowForces: cases.forces,
    peak: cases.peak,
    wanted: { margin: wantedMargin(scene.material, 'tab finishing'), movement: WANTED_MOVEMENT.roughing.value },
    cutterDeflection: bend(cutter, cases.across, depth),
  };
}

/** Thinned in one pass or several: the deepest of them. */
function deepestStep(top: Mm, depths: readonly Mm[]): Mm {
  return depths.reduce((most, z, i) => Math.max(most, (i === 0 ? top : depths[i - 1]!) - z), 0);
}

function cutterOf(scene: HoldScene, op: Operation): Cutter {
  return scene.plan.cutters.find((c) => c.number === op.cutter)!;
}

/** Depth of the part's own metal that a pass meets: what lies under the part takes no share. Levels a nanometre apart are alike. */
function engagedDepth(scene: HoldScene, top: Mm, z: Mm, floor: Mm): Mm {
  return Math.max(0.05, Math.round(1e6 * (Math.min(top, 0) - Math.max(z, scene.bottom + floor))) / 1e6);
}

/** Less than this is no support: it tears as the cutter comes. */
const SKIN: Mm = 0.02;

function belowPass(scene: HoldScene, z: Mm, floor: Mm): Mm {
  const below = Math.max(z, scene.bottom + floor) - scene.bottom - scene.thinnest;
  return below > SKIN ? below : 0;
}

function middle(scene: HoldScene, top: Mm, z: Mm): Mm {
  return (Math.min(top, 0) + Math.max(z, scene.bottom)) / 2;
}

function cutOf(scene: HoldScene, cutter: Cutter, op: Operation, ap: Mm, span: MillingCut['span']): MillingCut {
  return {
    diameter: cutter.diameter,
    teeth: cutter.flutes,
    ap,
    span,
    toothFeed: op.feed / (cutter.flutes * op.speed),
    helix: toRad(cutter.helixDeg),
    runout: scene.job.machine.runout,
  };
}

/** The same cut is met in many passes, for many sizes of tab and in the plans of one job that follow one another. */
function casesOf(scene: HoldScene, cutter: Cutter, cut: MillingCut): Cases {
  const key = `${cutter.material} ${scene.plan.climb} ${Object.values({ ...cut, ...cut.span }).join(' ')}`;
  return scene.tables.once(CASES, [scene.job, key], () => newCases(scene, cutter, cut));
}

const CASES = table<[job: Job, cut: string], Cases>('forces of a cut');

interface Cases {
  readonly forces: ForceSet;
  readonly peak: number;
  readonly across: number;
}

/** [feed, left, up] to [out, along, up] at the edge: climbing runs clockwise (metal on the right), else the other way. */
function newCases(scene: HoldScene, cutter: Cutter, cut: MillingCut): Cases {
  const raw = furthest(forceCases(cut, forceLaws(scene.material), wearFactor(cutter.material)));
  const side = scene.plan.climb ? 1 : -1;
  const triples = new Float64Array(raw.length);
  let peak = 0;
  let across = 0;
  for (let i = 0; i < raw.length; i += 3) {
    triples[i] = side * raw[i + 1]!;
    triples[i + 1] = -side * raw[i]!;
    triples[i + 2] = raw[i + 2]!;
    peak = Math.max(peak, Math.hypot(raw[i]!, raw[i + 1]!, raw[i + 2]!));
    across = Math.max(across, Math.abs(raw[i + 1]!));
  }
  return { forces: forceSet(triples), peak, across };
}

export function wantedMargin(material: Material, stage: 'tab finishing' | 'tab roughing'): number {
  return material.brittle ? WANTED_MARGIN.brittle.value : WANTED_MARGIN[stage].value;
}

function bend(cutter: Cutter, across: number, depth: Mm): Mm {
  const beam = { ...cutter, modulus: CUTTER_MATERIALS[cutter.material].E.value };
  return cutterDeflection(beam, across, depth / 2).atLoad;
}

function tightestHollow(scene: HoldScene): Mm {
  const curves = scene.parts[0]!.spots.map((s) => s.curvature).filter((k) => k < 0);
  return curves.length === 0 ? Number.POSITIVE_INFINITY : Math.min(...curves.map((k) => -1 / k));
}
