/** Layouts of tabs of one size: what each would do for the part, quickly enough to try thousands. */
import type { Mm } from '../base/units.ts';
import type { Vector } from '../mechanics/cut.ts';
import type { Connector } from '../mechanics/hang.ts';
import { type HeldState, type Limit, movementUnder, type OwnGive } from '../mechanics/held-state.ts';
import { HungLayouts } from '../mechanics/hung-layouts.ts';
import { assemble, edgeAxes, type Support } from '../mechanics/supports.ts';
import { tabFlexibility } from '../mechanics/tab.ts';
import type { TabShape } from '../mechanics/tab-shape.ts';
import { type TabSection, tabSections } from '../mechanics/tab-stress.ts';
import { weakestUnder } from '../mechanics/weakest.ts';
import { type Candidate, type Laid, layOn } from './candidates.ts';
import type { Pass } from './loads.ts';
import type { StockNet } from './net.ts';
import { giveFrom, NO_GIVE } from './own-give.ts';
import type { HoldScene } from './scene.ts';
import {
  better,
  type Comparison,
  downhill,
  type LayoutScore,
  layoutScore,
  MARGIN_CAP,
  SHORT_STEP,
  SHORT_WEIGHT,
} from './score.ts';

/** What the tabs do not carry alone: screws that hold as well. */
export interface Grounded {
  readonly supports: readonly Support[];
  readonly at: readonly { readonly x: Mm; readonly y: Mm }[];
}

export const NOTHING_ELSE: Grounded = { supports: [], at: [] };

/** As cut, by the thinnest plate: the smallest tab that can come out. */
export function tabShapeOf(scene: HoldScene, width: Mm, height: Mm): TabShape {
  const r = scene.cutter.diameter / 2;
  return {
    waist: width,
    height: Math.max(0.05, height - scene.thinnest),
    cutterRadius: r,
    slotWidth: scene.slotWidth,
    frameRadius: r,
  };
}

/** By part, place and spot: the part's own give at the spot if it hung from that place alone. */
export type OwnTable = readonly (readonly (readonly OwnGive[])[])[];

export function ownTable(scene: HoldScene, places: readonly Candidate[]): OwnTable {
  return scene.parts.map(({ spots }, index) =>
    places.map((p) => {
      const { at } = layOn(scene, index, p);
      return spots.map((s) => giveFrom(spots, s, at, scene.thickness, scene.metal));
    }),
  );
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
    let movement = 0;
    const mayMove = mostMovement(best, by);
    for (const part of this.parts) {
      if (!part.hang(layout)) return null;
      movement = Math.max(movement, part.movement(layout, this.passes, mayMove));
      if (movement > mayMove) return null;
    }
    let margin = Number.POSITIVE_INFINITY;
    // Weaker than this loses whatever the rest is.
    const enough = best === null ? 0 : 1 - mostShort(best, by, movement);
    for (const part of this.parts) {
      margin = Math.min(margin, part.margin(this.passes, Math.min(margin, MARGIN_CAP), enough));
      if (margin < enough) return null;
    }
    const ease = layout.reduce((sum, n) => sum + this.places[n]!.ease, 0) / Math.max(1, layout.length);
    const score = layoutScore(movement, margin, ease);
    return best !== null && !better(score, best, by) ? null : score;
  }
}

/** More movement than this loses: only where the best has no shortfall of margin, which counts first. */
function mostMovement(best: LayoutScore | null, by: Comparison): number {
  if (best === null) return Number.POSITIVE_INFINITY;
  if (by === 'exact') return downhill(best);
  return best.short === 0 ? best.movement * (1 + 1e-9) : Number.POSITIVE_INFINITY;
}

/** Margin missing beyond this loses, at the movement found. */
function mostShort(best: LayoutScore, by: Comparison, movement: number): number {
  if (by === 'stepped') return best.short + SHORT_STEP;
  return Math.max(0, (downhill(best) - movement) / SHORT_WEIGHT);
}

class PartLayouts {
  private readonly scene: HoldScene;
  private readonly hung: HungLayouts;
  /** Of the layout hung last. */
  compliance: Float64Array = NOTHING_HUNG;
  private readonly sections: readonly TabSection[];
  readonly origin: Vector;
  private readonly groundedOwn: readonly OwnGive[];
  private readonly own: readonly (readonly OwnGive[])[];
  private readonly spots: HoldScene['parts'][number]['spots'];
  /** Every other spot, those that decided lately first. */
  private readonly order: number[];

  constructor(
    scene: HoldScene,
    net: StockNet,
    index: number,
    places: readonly Candidate[],
    shape: TabShape,
    grounded: Grounded,
    own: OwnTable[number],
  ) {
    this.scene = scene;
    const part = scene.parts[index]!;
    this.spots = part.spots;
    this.order = part.spots.flatMap((_, i) => (i % 2 === 0 ? [i] : []));
    this.origin = [part.centre.x, part.centre.y, scene.bottom / 2];
    const flexibility = tabFlexibility(shape, scene.metal, { part: scene.thickness, frame: scene.thickness });
    const connectors = places.map((p) => tabConnector(scene, net, layOn(scene, index, p), shape, flexibility));
    this.hung = new HungLayouts(connectors, net.give, assemble(grounded.supports, this.origin), this.origin);
    this.sections = tabSections(shape, 4);
    const give = (p: { x: Mm; y: Mm }) =>
      part.spots.map((s) => giveFrom(part.spots, s, p, scene.thickness, scene.metal));
    this.own = own;
    this.groundedOwn = nearestOf(part.spots.length, grounded.at.map(give));
  }

  /** What is asked next is asked of this layout; false: it leaves the part loose. */
  hang(layout: readonly number[]): boolean {
    const compliance = this.hung.complianceOf(layout);
    if (compliance !== null) this.compliance = compliance;
    return compliance !== null;
  }

  private state(): HeldState {
    const limits = this.hung.recovers().map(
      (recover, i): Limit => ({
        kind: 'tab',
        wanted: null,
        index: i,
        recover,
        sections: this.sections,
        stress: this.scene.strength,
        brittle: this.scene.material.brittle,
      }),
    );
    return { origin: this.origin, compliance: this.compliance, limits };
  }

  /** Greatest movement over wanted, at every spot and pass; given up once it is over `most`. */
  movement(layout: readonly number[], passes: readonly Pass[], most: number): number {
    let found = 0;
    for (const i of this.order) {
      const s = this.spots[i]!;
      const own = this.ownAt(i, layout);
      for (const pass of passes) {
        const forces = s.curvature < 0 ? pass.hollowForces : pass.forces;
        const m = movementUnder(this, s, pass.z, forces, own, this.scene.hollow);
        found = Math.max(found, Math.max(m.normal, m.up) / pass.wanted.movement);
      }
      if (found > most) {
        this.lookFirst(i);
        return found;
      }
    }
    return found;
  }

  /** Least margin over wanted; given up once below `enough`. What is above `cap` is not told apart. */
  margin(passes: readonly Pass[], cap: number, enough: number): number {
    const state = this.state();
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
    const at = this.order.indexOf(i);
    this.order.splice(at, 1);
    this.order.unshift(i);
  }

  private ownAt(spot: number, layout: readonly number[]): OwnGive {
    let best = this.groundedOwn[spot] ?? null;
    for (const n of layout) {
      const g = this.own[n]![spot]!;
      if (best === null || g.normal + g.up < best.normal + best.up) best = g;
    }
    return best ?? NO_GIVE;
  }
}

const NOTHING_HUNG = new Float64Array(36);

/** null: no frame to be rooted in. */
export function tabConnector(
  scene: HoldScene,
  net: StockNet,
  laid: Laid,
  shape: TabShape,
  flexibility: Float64Array,
): Connector | null {
  const root = net.root(laid.root);
  if (root === null) return null;
  const at: Vector = [laid.at.x, laid.at.y, scene.bottom + scene.thinnest + shape.height / 2];
  return { at, axes: edgeAxes(laid.angle), order: 6, flexibility, root };
}

function nearestOf(count: number, lists: readonly (readonly OwnGive[])[]): readonly OwnGive[] {
  if (lists.length === 0) return [];
  return Array.from({ length: count }, (_, i) =>
    lists.map((l) => l[i]!).reduce((a, b) => (a.normal + a.up <= b.normal + b.up ? a : b)),
  );
}
