/** Layouts of tabs of one size: what each would do for the part, quickly enough to try thousands. */
import { table } from '../../base/tables.ts';
import type { Mm } from '../../base/units.ts';
import type { Vector } from '../../mechanics/cutting/cut.ts';
import {
  type EdgePush,
  edgeCompliance,
  greaterMovement,
  type HeldState,
  type SupportLimit,
  Workspace,
} from '../../mechanics/held/held-state.ts';
import { weakestUnder } from '../../mechanics/held/weakest.ts';
import { multiply } from '../../mechanics/math/matrix.ts';
import { HungLayouts } from '../../mechanics/plate/hung-layouts.ts';
import { toLocal } from '../../mechanics/support/supports.ts';
import { type GroundedSupports, groundedOf, originOf } from '../evaluate/grounded.ts';
import { complianceFrom } from '../evaluate/own-compliance.ts';
import { layOn, type TabCandidate } from '../scene/candidates.ts';
import type { Pass } from '../scene/loads.ts';
import type { StockNet } from '../scene/net.ts';
import type { HoldScene } from '../scene/scene.ts';
import type { TabModel } from '../scene/shapes.ts';
import { tabConnector } from '../scene/tab-connector.ts';
import { type HoldWay, NO_WAY } from '../way.ts';
import {
  better,
  type Comparison,
  downhill,
  type LayoutScore,
  layoutScore,
  levelled,
  MARGIN_CAP,
  SHORT_STEP,
  SHORT_WEIGHT,
  unlevelled,
} from './score.ts';

/** Every other spot is looked at: the layout found is judged at them all. */
const EVERY = 2;

/** By part: the part's own give at a spot looked at if it hung from one place alone, `spots / EVERY` numbers a place. */
export type OwnTable = readonly OwnCompliances[];

interface OwnCompliances {
  readonly normal: Float64Array;
  readonly up: Float64Array;
}

export function ownTable(scene: HoldScene, places: readonly TabCandidate[]): OwnTable {
  return scene.parts.map((_, index) =>
    ownCompliancesFrom(
      scene,
      index,
      places.map((p) => layOn(scene, index, p).at),
    ),
  );
}

function ownCompliancesFrom(
  scene: HoldScene,
  index: number,
  from: readonly { readonly x: Mm; readonly y: Mm }[],
): OwnCompliances {
  const looked = scene.parts[index]!.spots.filter((_, i) => i % EVERY === 0);
  const normal = new Float64Array(from.length * looked.length);
  const up = new Float64Array(from.length * looked.length);
  from.forEach((p, n) => {
    looked.forEach((s, i) => {
      const compliance = complianceFrom(s, p, scene.thickness, scene.metal);
      normal[n * looked.length + i] = compliance.normal;
      up[n * looked.length + i] = compliance.up;
    });
  });
  return { normal, up };
}

/** Where tabs of one size may stand, and with what else. */
export interface TabGround {
  readonly scene: HoldScene;
  readonly net: StockNet;
  readonly places: readonly TabCandidate[];
  readonly own: OwnTable;
  /** By part: what the tabs do not carry alone (screws that hold as well). */
  readonly grounded: readonly GroundedSupports[];
}

export class Layouts {
  readonly places: readonly TabCandidate[];
  private readonly parts: readonly PartLayouts[];
  private readonly mayStop: () => void;

  /** `passes`: those that the tabs carry alone. */
  constructor(ground: TabGround, model: TabModel, passes: readonly Pass[]) {
    this.places = ground.places;
    this.parts = ground.scene.parts.map((_, i) => new PartLayouts(ground, i, model, passes));
    this.mayStop = ground.scene.tables.mayStop;
  }

  /** null: leaves the part loose, or is surely not better than `best`. */
  score(layout: readonly number[], best: LayoutScore | null = null, by: Comparison = 'stepped'): LayoutScore | null {
    // What is asked without a better one in hand is evaluated afresh: the same figures whatever was asked before.
    const movement = this.movement(layout, mostMovement(best, by), best === null);
    if (movement === null) return null;
    let margin = Number.POSITIVE_INFINITY;
    // Weaker than this loses whatever the rest is.
    const enough = best === null ? 0 : 1 - mostShort(best, by, movement);
    for (const part of this.parts) {
      margin = Math.min(margin, part.margin(layout, Math.min(margin, MARGIN_CAP), enough));
      if (margin < enough) return null;
    }
    const score = layoutScore(movement, margin, this.ease(layout));
    return best !== null && !better(score, best, by) ? null : score;
  }

  /** Most movement over wanted; null: leaves the part loose, or moves more than `most`. */
  movement(layout: readonly number[], most: number, afresh = false): number | null {
    this.mayStop();
    let movement = 0;
    for (const part of this.parts) {
      if (!part.hang(layout, afresh)) return null;
      movement = Math.max(movement, part.movement(layout, most));
      if (movement > most) return null;
    }
    return movement;
  }

  ease(layout: readonly number[]): number {
    return layout.reduce((sum, n) => sum + this.places[n]!.ease, 0) / Math.max(1, layout.length);
  }
}

/** More movement than this loses: only where the best has no shortfall of margin, which counts first. */
function mostMovement(best: LayoutScore | null, by: Comparison): number {
  if (best === null) return Number.POSITIVE_INFINITY;
  if (by === 'exact') return unlevelled(downhill(best));
  return best.short === 0 ? best.movement * (1 + 1e-9) : Number.POSITIVE_INFINITY;
}

/** Margin missing beyond this loses, at the movement found. */
function mostShort(best: LayoutScore, by: Comparison, movement: number): number {
  if (by === 'stepped') return best.short + SHORT_STEP;
  return Math.max(0, (downhill(best) - levelled(movement)) / SHORT_WEIGHT);
}

class PartLayouts {
  private readonly hollow: boolean;
  private readonly hung: HungLayouts;
  private readonly work = new Workspace();
  /** Of the layout hung last. */
  compliance: Float64Array = new Float64Array(36);
  readonly origin: Vector;
  private readonly limits: readonly TabLimit[];
  private readonly grounded: GroundedSupports;
  /** Of the supports that may give up first: local force for a motion of the part, 6x6. */
  private readonly groundedForces: readonly Float64Array[];
  private readonly groundedOwn: OwnCompliances;
  private readonly ownAt: OwnCompliances;
  /** By spot looked at: what each pass does there. */
  private readonly pushes: readonly (readonly PassPush[])[];
  /** Indexes of the spots, those that decided lately first. */
  private readonly order: number[];
  /** At the spot looked at, from the support that leaves it the least. */
  private readonly own = { normal: 0, up: 0 };

  constructor(ground: TabGround, index: number, model: TabModel, passes: readonly Pass[]) {
    const { scene, places } = ground;
    const spots = scene.parts[index]!.spots.filter((_, i) => i % EVERY === 0);
    this.hollow = scene.hollow;
    this.pushes = spots.map((spot) =>
      passes.map(({ z, forces, hollowForces, wanted }) => {
        return { spot, z, forces: spot.curvature < 0 ? hollowForces : forces, wanted };
      }),
    );
    this.order = spots.map((_, i) => i);
    this.origin = originOf(scene, index);
    this.grounded = ground.grounded[index] ?? groundedOf(scene, index, ALONE);
    this.hung = hungOn(ground, index, model, this.grounded, this.origin);
    this.limits = places.map(
      (_, i): TabLimit => ({
        kind: 'tab',
        wanted: null,
        index: i,
        recover: this.compliance,
        sections: model.fewSections,
        stress: scene.strength,
        brittle: scene.material.brittle,
      }),
    );
    this.ownAt = ground.own[index]!;
    this.groundedForces = this.grounded.first.map((i) => {
      const s = this.grounded.supports[i]!;
      return multiply(s.stiffness, toLocal(s, this.origin), 6);
    });
    const at = this.grounded.supports.map((s) => ({ x: s.at[0], y: s.at[1] }));
    this.groundedOwn = ownCompliancesFrom(scene, index, at);
  }

  /** What is asked next is asked of this layout; false: it leaves the part loose. */
  hang(layout: readonly number[], afresh: boolean): boolean {
    const compliance = this.hung.complianceOf(layout, afresh);
    if (compliance !== null) this.compliance = compliance;
    return compliance !== null;
  }

  /** Greatest movement over wanted, at every spot and pass; given up once it is over `most`. */
  movement(layout: readonly number[], most: number): number {
    let found = 0;
    for (const i of this.order) {
      const pushes = this.pushes[i]!;
      this.findOwn(i, layout);
      for (const { spot, z, forces, wanted } of pushes) {
        const known = found * wanted.movement;
        const there = edgeCompliance(this.work, this, spot, z);
        const m = greaterMovement(there, forces, this.own, this.hollow, known) / wanted.movement;
        if (m > found) found = m;
      }
      if (found > most) {
        this.lookFirst(i);
        return found;
      }
    }
    return found;
  }

  /** Least margin over wanted; given up once below `enough`. What is above `cap` is not told apart. */
  margin(layout: readonly number[], cap: number, enough: number): number {
    const limits: SupportLimit[] = this.hung.recovers(layout).map((recover, i) => {
      const limit = this.limits[i]!;
      limit.recover = recover;
      return limit;
    });
    for (const k of this.groundedForces) limits.push(this.grounded.limit(multiply(k, this.compliance, 6)));
    const state: HeldState = { origin: this.origin, compliance: this.compliance, limits };
    let least = cap;
    for (const i of this.order) {
      for (const push of this.pushes[i]!) {
        const weak = weakestUnder(this.work, state, push, push.wanted.margin, least);
        if (weak.index >= 0) least = weak.margin / weak.wanted;
      }
      if (least < enough) {
        this.lookFirst(i);
        return least;
      }
    }
    return least;
  }

  /** A spot that decided once will decide again for the next layout, most likely. */
  private lookFirst(i: number): void {
    const { order } = this;
    let at = order.indexOf(i);
    for (; at > 0; at--) order[at] = order[at - 1]!;
    order[0] = i;
  }

  private leastOwn = 0;

  private findOwn(spot: number, layout: readonly number[]): void {
    const count = this.pushes.length;
    this.leastOwn = Number.POSITIVE_INFINITY;
    for (let at = spot; at < this.groundedOwn.normal.length; at += count) this.look(this.groundedOwn, at);
    for (let i = 0; i < layout.length; i++) this.look(this.ownAt, layout[i]! * count + spot);
  }

  private look(compliances: OwnCompliances, at: number): void {
    const n = compliances.normal[at]!;
    const u = compliances.up[at]!;
    if (n + u >= this.leastOwn) return;
    this.leastOwn = n + u;
    this.own.normal = n;
    this.own.up = u;
  }
}

/** Nothing holds besides the tabs. */
const ALONE: HoldWay = { ...NO_WAY, by: 'tabs' };

interface PassPush extends EdgePush {
  readonly wanted: Pass['wanted'];
}

/** Filled anew for every layout. */
interface TabLimit extends Omit<Extract<SupportLimit, { kind: 'tab' }>, 'recover'> {
  recover: Float64Array;
}

/** Tabs of a shape at these places: the same whatever the passes, but for what holds the part besides. */
function hungOn(
  { scene, net, places }: TabGround,
  index: number,
  model: TabModel,
  grounded: GroundedSupports,
  origin: Vector,
): HungLayouts {
  return scene.tables.once(HUNG, [places, grounded, index, model], () => {
    const connectors = places.map((p) => tabConnector(scene, net, layOn(scene, index, p), model));
    return new HungLayouts(connectors, net.compliance, grounded.stiffness, origin);
  });
}

/** Places belong to one plate. */
const HUNG = table<
  [places: readonly TabCandidate[], grounded: GroundedSupports, part: number, model: TabModel],
  HungLayouts
>('tabs of a shape at places');
