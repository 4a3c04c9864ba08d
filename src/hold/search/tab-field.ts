/** The edge of a part as a field for tabs: places, and what was found on them. Asked for again and again with other wishes. */
import { tangent } from '../../base/angles.ts';
import { table } from '../../base/tables.ts';
import { type Mm, toRad } from '../../base/units.ts';
import { furthest } from '../../mechanics/held/furthest.ts';
import { type ForceSet, forceSet } from '../../mechanics/held/held-state.ts';
import type { Plan } from '../../plan/plan.ts';
import { passesFor } from '../evaluate/evaluate.ts';
import type { GroundedSupports } from '../evaluate/grounded.ts';
import { type Candidates, candidates, layOn } from '../scene/candidates.ts';
import type { Pass } from '../scene/loads.ts';
import type { StockNet } from '../scene/net.ts';
import type { HoldScene } from '../scene/scene.ts';
import { tabModel } from '../scene/shapes.ts';
import type { HoldWay } from '../way.ts';
import { Layouts, type OwnTable, ownTable, type TabGround } from './layouts.ts';
import type { ScoredLayout, Spacing } from './room.ts';
import { type SearchEffort, searchPlaces } from './search.ts';

/** Places that can be rooted in the frame. */
export interface Rooted extends Candidates {
  /** How many more are free along the edge, with no frame within reach. */
  readonly rootless: number;
  readonly own: OwnTable;
}

/** What a draft, the choice and the comparison find for tabs alone, none of them need find again. */
export function fieldFor(
  scene: HoldScene,
  net: StockNet,
  widest: Mm,
  others: Omit<HoldWay, 'tabs'>,
  grounded: readonly GroundedSupports[],
): TabField {
  const field = () => new TabField(scene, net, widest, others, grounded);
  return grounded.length > 0 ? field() : scene.tables.once(FIELDS, [scene, net, widest, others.floor], field);
}

const FIELDS = table<[scene: HoldScene, net: StockNet, widest: Mm, floor: Mm], TabField>('edges as fields for tabs');

export interface TabSize {
  readonly count: number;
  readonly width: Mm;
  readonly cutHeight: Mm;
}

export class TabField {
  readonly rooted: Rooted;
  private readonly scene: HoldScene;
  private readonly others: Omit<HoldWay, 'tabs'>;
  private readonly ground: TabGround;
  private readonly layouts = new Map<string, Layouts>();
  private readonly searched = new Map<string, ScoredLayout | null>();

  constructor(
    scene: HoldScene,
    net: StockNet,
    widest: Mm,
    others: Omit<HoldWay, 'tabs'>,
    grounded: readonly GroundedSupports[],
  ) {
    this.scene = scene;
    this.others = others;
    this.rooted = rootedPlaces(scene, net, widest);
    const { places, own } = this.rooted;
    this.ground = { scene, net, places, own, grounded };
  }

  search(size: TabSize, effort: SearchEffort): ScoredLayout | null {
    return this.once(size, effort, null);
  }

  /** Quickly, from what was found for the size tried before. */
  tryOut(size: TabSize, previous: ScoredLayout | null): ScoredLayout | null {
    return this.once(size, 'quick', previous);
  }

  private once(size: TabSize, effort: SearchEffort, previous: ScoredLayout | null): ScoredLayout | null {
    const key = `${size.count} ${size.width} ${size.cutHeight} ${effort} ${previous?.layout}`;
    let found = this.searched.get(key);
    if (found === undefined) {
      found = searchPlaces(this.layoutsOf(size), size.count, this.spacing(size), effort, previous);
      this.searched.set(key, found);
    }
    return found;
  }

  spacing(size: { readonly width: Mm; readonly cutHeight: Mm }): Spacing {
    return spacingOf(this.scene, size.width, size.cutHeight, this.rooted.length);
  }

  private layoutsOf({ width, cutHeight }: { readonly width: Mm; readonly cutHeight: Mm }): Layouts {
    const key = `${width} ${cutHeight}`;
    let found = this.layouts.get(key);
    if (found === undefined) {
      const way = { ...this.others, tabs: { width, cutHeight, height: cutHeight, places: [] } };
      const passes = searchPasses(passesFor(this.scene, way));
      found = new Layouts(this.ground, tabModel(this.scene, width, cutHeight), passes);
      this.layouts.set(key, found);
    }
    return found;
  }
}

/** The same for every plan of the job that is cut with the same cutter and leaves the same edges bare. */
function rootedPlaces(scene: HoldScene, net: StockNet, widest: Mm): Rooted {
  const key = JSON.stringify([widest, scene.cutter.diameter, scene.plan.bare]);
  return scene.tables.once(ROOTED, [net, key], () => {
    const free = candidates(scene, widest);
    const places = free.places.filter((p) =>
      scene.job.places.every((_, i) => net.root(layOn(scene, i, p).root) !== null),
    );
    return { ...free, places, rootless: free.places.length - places.length, own: ownTable(scene, places) };
  });
}

const ROOTED = table<[net: StockNet, edge: string], Rooted>('places that can be rooted');

/**
 * For the search: of the passes of one kind that the tabs carry alone, the one that pushes hardest, at the height of the
 * highest level and of the lowest; with force vectors some 45 degrees apart, up to 15 % short in between. The layout found is
 * judged by every pass as it is.
 */
export function searchPasses(passes: readonly Pass[]): readonly Pass[] {
  const alone = passes.filter((p) => p.below === 0 && p.kind !== 'lightening');
  const kinds = [...new Set(alone.map((p) => p.kind))];
  return kinds.flatMap((kind) => {
    const levels = alone.filter((p) => p.kind === kind);
    const hardest = levels.reduce((a, b) => (b.peak > a.peak ? b : a));
    const zs = levels.filter((p) => p.peak > AS_HARD * hardest.peak).map((p) => p.z);
    const ends = [Math.max(...zs), Math.min(...zs)];
    const pass = fewerCases(hardest);
    return ends[0]! - ends[1]! < ONE_HEIGHT ? [pass] : ends.map((z) => ({ ...pass, z }));
  });
}

/** Levels that push less do not decide. */
const AS_HARD = 0.7;
/** Levels nearer to one another than a tab is high. */
const ONE_HEIGHT: Mm = 0.5;

function fewerCases(pass: Pass): Pass {
  const few = ({ triples }: ForceSet) => forceSet(furthest(triples, Math.PI / 4));
  const forces = few(pass.forces);
  return { ...pass, forces, hollowForces: pass.hollowForces === pass.forces ? forces : few(pass.hollowForces) };
}

/** Room for the cutter to come in between tabs: overlap and entry of a finishing pass. */
const FREE: Mm = 3;

export function spacingOf(scene: HoldScene, width: Mm, cutHeight: Mm, length: Mm): Spacing {
  const footprint = width + scene.cutter.diameter + rampLengths(scene.plan, scene.thickness, cutHeight);
  return { length, footprint, free: FREE };
}

/** Both ramps, each from the tab's top to the bottom of the slot. */
export function rampLengths(plan: Plan, thickness: Mm, height: Mm): Mm {
  const rise = Math.max(0, -thickness + height - plan.profileBottom);
  return rise / tangent(toRad(plan.tabRamp.upDeg)) + rise / tangent(toRad(plan.tabRamp.downDeg));
}
