/** Layouts of tabs of one size: what each would do for the part, quickly enough to try thousands. */

import type { Mm } from '../../base/units.ts';
import type { Vector } from '../../mechanics/cutting/cut.ts';
import { boxOf, greaterMovement, type HeldState, type Limit } from '../../mechanics/held/held-state.ts';
import { weakestUnder } from '../../mechanics/held/weakest.ts';
import { multiply } from '../../mechanics/math/matrix.ts';
import { HungLayouts } from '../../mechanics/plate/hung-layouts.ts';
import { assemble, toLocal } from '../../mechanics/support/supports.ts';
import type { TabShape } from '../../mechanics/support/tab-shape.ts';
import { type GroundedSupports, NO_GROUND } from '../evaluate/grounded.ts';
import { giveFrom } from '../evaluate/own-give.ts';
import { type Candidate, layOn } from '../scene/candidates.ts';
import type { Pass } from '../scene/loads.ts';
import type { StockNet } from '../scene/net.ts';
import type { HoldScene } from '../scene/scene.ts';
import { flexibilityOf, sectionsOf, tabShapeOf } from '../scene/shapes.ts';
import { tabConnector } from '../scene/tab-connector.ts';
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

/** What the tabs do not carry alone: screws that hold as well. */
export interface Grounded extends GroundedSupports {
  readonly at: readonly { readonly x: Mm; readonly y: Mm }[];
}

export const NOTHING_ELSE: Grounded = { ...NO_GROUND, at: [] };

/** Every other spot is looked at: the layout found is judged at them all. */
const EVERY = 2;

/** By part: the part's own give at a spot looked at if it hung from one place alone, `spots / EVERY` numbers a place. */
export type OwnTable = readonly OwnGives[];

interface OwnGives {
  readonly normal: Float64Array;
  readonly up: Float64Array;
}

export function ownTable(scene: HoldScene, places: readonly Candidate[]): OwnTable {
  return scene.parts.map((_, index) =>
    ownGivesFrom(
      scene,
      index,
      places.map((p) => layOn(scene, index, p).at),
    ),
  );
}

function ownGivesFrom(scene: HoldScene, index: number, from: readonly { readonly x: Mm; readonly y: Mm }[]): OwnGives {
  const { spots } = scene.parts[index]!;
  const looked = spots.filter((_, i) => i % EVERY === 0);
  const normal = new Float64Array(from.length * looked.length);
  const up = new Float64Array(from.length * looked.length);
  from.forEach((p, n) => {
    looked.forEach((s, i) => {
      const give = giveFrom(spots, s, p, scene.thickness, scene.metal);
      normal[n * looked.length + i] = give.normal;
      up[n * looked.length + i] = give.up;
    });
  });
  return { normal, up };
}

export class Layouts {
  readonly places: readonly Candidate[];
  private readonly passes: readonly Pass[];
  private readonly parts: readonly PartLayouts[];

  constructor(
    scene: HoldScene,
    net: StockNet,
    places: readonly Candidate[],
    size: { readonly width: Mm; readonly height: Mm },
    /** Those that the tabs carry alone. */
    passes: readonly Pass[],
    grounded: readonly Grounded[],
    own: OwnTable = ownTable(scene, places),
  ) {
    this.places = places;
    this.passes = passes;
    const shape = tabShapeOf(scene, size.width, size.height);
    this.parts = scene.parts.map(
      (_, i) => new PartLayouts(scene, net, i, places, shape, grounded[i] ?? NOTHING_ELSE, own[i]!),
    );
  }

  /** null: leaves the part loose, or is surely not better than `best`. */
  score(layout: readonly number[], best: LayoutScore | null = null, by: Comparison = 'stepped'): LayoutScore | null {
    // What is asked without a better one in hand is reckoned afresh: the same figures whatever was asked before.
    const movement = this.movement(layout, mostMovement(best, by), best === null);
    if (movement === null) return null;
    let margin = Number.POSITIVE_INFINITY;
    // Weaker than this loses whatever the rest is.
    const enough = best === null ? 0 : 1 - mostShort(best, by, movement);
    for (const part of this.parts) {
      margin = Math.min(margin, part.margin(layout, this.passes, Math.min(margin, MARGIN_CAP), enough));
      if (margin < enough) return null;
    }
    const score = layoutScore(movement, margin, this.ease(layout));
    return best !== null && !better(score, best, by) ? null : score;
  }

  /** Most movement over wanted; null: leaves the part loose, or moves more than `most`. */
  movement(layout: readonly number[], most: number, afresh = false): number | null {
    let movement = 0;
    for (const part of this.parts) {
      if (!part.hang(layout, afresh)) return null;
      movement = Math.max(movement, part.movement(layout, this.passes, most));
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
  private readonly scene: HoldScene;
  private readonly hung: HungLayouts;
  /** Of the layout hung last. */
  compliance: Float64Array = NOTHING_HUNG;
  readonly origin: Vector;
  private readonly limits: readonly TabLimit[];
  private readonly grounded: Grounded;
  /** Of the supports that may give up first: local force for a motion of the part, 6x6. */
  private readonly groundedForces: readonly Float64Array[];
  private readonly groundedOwn: OwnGives;
  private readonly own: OwnGives;
  /** Those looked at. */
  private readonly spots: HoldScene['parts'][number]['spots'];
  /** Indexes of the spots, those that decided lately first. */
  private readonly order: number[];

  constructor(
    scene: HoldScene,
    net: StockNet,
    index: number,
    places: readonly Candidate[],
    shape: TabShape,
    grounded: Grounded,
    own: OwnGives,
  ) {
    this.scene = scene;
    const part = scene.parts[index]!;
    this.spots = part.spots.filter((_, i) => i % EVERY === 0);
    this.order = this.spots.map((_, i) => i);
    this.origin = [part.centre.x, part.centre.y, scene.bottom / 2];
    this.hung = hungOn(scene, net, index, places, shape, grounded, this.origin);
    this.limits = places.map(
      (_, i): TabLimit => ({
        kind: 'tab',
        wanted: null,
        index: i,
        recover: NOTHING_HUNG,
        sections: sectionsOf(shape, 4),
        stress: scene.strength,
        brittle: scene.material.brittle,
      }),
    );
    this.own = own;
    this.grounded = grounded;
    this.groundedForces = grounded.first.map((i) => {
      const s = grounded.supports[i]!;
      return multiply(s.stiffness, toLocal(s, this.origin), 6);
    });
    this.groundedOwn = ownGivesFrom(scene, index, grounded.at);
  }

  /** What is asked next is asked of this layout; false: it leaves the part loose. */
  hang(layout: readonly number[], afresh: boolean): boolean {
    const compliance = this.hung.complianceOf(layout, afresh);
    if (compliance !== null) this.compliance = compliance;
    return compliance !== null;
  }

  /** Greatest movement over wanted, at every spot and pass; given up once it is over `most`. */
  movement(layout: readonly number[], passes: readonly Pass[], most: number): number {
    const { hollow } = this.scene;
    let found = 0;
    for (const i of this.order) {
      const s = this.spots[i]!;
      this.findOwn(i, layout);
      for (const pass of passes) {
        const forces = s.curvature < 0 ? pass.hollowForces : pass.forces;
        const { movement } = pass.wanted;
        const known = found * movement;
        const { ownNormal, ownUp } = this;
        const m = greaterMovement(this, s, pass.z, forces, boxOf(forces), ownNormal, ownUp, hollow, known) / movement;
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
  margin(layout: readonly number[], passes: readonly Pass[], cap: number, enough: number): number {
    const recovers = this.hung.recovers(layout);
    const limits: Limit[] = [];
    for (let i = 0; i < recovers.length; i++) {
      const limit = this.limits[i]!;
      limit.recover = recovers[i]!;
      limits.push(limit);
    }
    for (const k of this.groundedForces) limits.push(this.grounded.limit(multiply(k, this.compliance, 6)));
    const state: HeldState = { origin: this.origin, compliance: this.compliance, limits };
    let least = cap;
    for (const i of this.order) {
      const s = this.spots[i]!;
      for (const pass of passes) {
        const forces = s.curvature < 0 ? pass.hollowForces : pass.forces;
        const weak = weakestUnder(state, s, pass.z, forces, pass.wanted.margin, least);
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
  private ownNormal = 0;
  private ownUp = 0;

  /** Own give at a spot from the support that leaves it the least. */
  private findOwn(spot: number, layout: readonly number[]): void {
    const count = this.spots.length;
    this.leastOwn = Number.POSITIVE_INFINITY;
    for (let at = spot; at < this.groundedOwn.normal.length; at += count) this.look(this.groundedOwn, at);
    for (let i = 0; i < layout.length; i++) this.look(this.own, layout[i]! * count + spot);
  }

  private look(gives: OwnGives, at: number): void {
    const n = gives.normal[at]!;
    const u = gives.up[at]!;
    if (n + u >= this.leastOwn) return;
    this.leastOwn = n + u;
    this.ownNormal = n;
    this.ownUp = u;
  }
}

/** Filled anew for every layout. */
interface TabLimit extends Omit<Extract<Limit, { kind: 'tab' }>, 'recover'> {
  recover: Float64Array;
}

const NOTHING_HUNG = new Float64Array(36);

/** Tabs of a shape at these places: the same whatever the passes. */
function hungOn(
  scene: HoldScene,
  net: StockNet,
  index: number,
  places: readonly Candidate[],
  shape: TabShape,
  grounded: Grounded,
  origin: Vector,
): HungLayouts {
  const key = `${index} ${JSON.stringify(shape)}`;
  const alone = grounded.supports.length === 0;
  const ofPlaces = hungOf.get(places) ?? new Map<string, HungLayouts>();
  hungOf.set(places, ofPlaces);
  const known = alone ? ofPlaces.get(key) : undefined;
  if (known !== undefined) return known;
  const flexibility = flexibilityOf(shape, scene);
  const connectors = places.map((p) => tabConnector(scene, net, layOn(scene, index, p), shape, flexibility));
  const hung = new HungLayouts(connectors, net.give, assemble(grounded.supports, origin), origin);
  if (alone) ofPlaces.set(key, hung);
  return hung;
}

/** Places belong to one plate. */
const hungOf = new WeakMap<readonly Candidate[], Map<string, HungLayouts>>();
