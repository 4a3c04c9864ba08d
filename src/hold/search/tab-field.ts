/** The edge of a part as a field for tabs: places, and what was found on them. Asked for again and again with other wishes. */
import { type Mm, toRad } from '../../base/units.ts';
import { furthest } from '../../mechanics/held/furthest.ts';
import type { Plan } from '../../plan/plan.ts';
import { passesFor } from '../evaluate/reckon.ts';
import { type Candidates, candidates, layOn } from '../scene/candidates.ts';
import type { Pass } from '../scene/loads.ts';
import type { StockNet } from '../scene/net.ts';
import type { HoldScene } from '../scene/scene.ts';
import type { Way } from '../way.ts';
import { type Grounded, Layouts, type OwnTable, ownTable } from './layouts.ts';
import type { Found, Spacing } from './room.ts';
import { type Effort, searchPlaces } from './search.ts';

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
  others: Omit<Way, 'tabs'>,
  grounded: readonly Grounded[],
): TabField {
  if (grounded.length > 0) return new TabField(scene, net, widest, others, grounded);
  const key = `${widest} ${others.floor}`;
  const known = fields.get(scene) ?? new Map<string, TabField>();
  fields.set(scene, known);
  const kept = known.get(key);
  if (kept?.net === net) return kept;
  const field = new TabField(scene, net, widest, others, grounded);
  known.set(key, field);
  return field;
}

const fields = new WeakMap<HoldScene, Map<string, TabField>>();

export interface TabSize {
  readonly count: number;
  readonly width: Mm;
  readonly cutHeight: Mm;
}

export class TabField {
  readonly net: StockNet;
  readonly rooted: Rooted;
  private readonly scene: HoldScene;
  private readonly others: Omit<Way, 'tabs'>;
  private readonly grounded: readonly Grounded[];
  private readonly layouts = new Map<string, Layouts>();
  private readonly searched = new Map<string, Found | null>();
  private last: Found | null = null;

  constructor(scene: HoldScene, net: StockNet, widest: Mm, others: Omit<Way, 'tabs'>, grounded: readonly Grounded[]) {
    this.scene = scene;
    this.net = net;
    this.others = others;
    this.grounded = grounded;
    this.rooted = rootedPlaces(scene, net, widest);
  }

  search(size: TabSize, effort: Effort): Found | null {
    return this.once(size, effort, null);
  }

  /** Quickly, from what was found for the size tried before. */
  tryOut(size: TabSize): Found | null {
    const found = this.once(size, 'quick', this.last);
    this.last = found ?? this.last;
    return found;
  }

  private once(size: TabSize, effort: Effort, like: Found | null): Found | null {
    const key = `${size.count} ${size.width} ${size.cutHeight} ${like === null ? effort : 'like'}`;
    let found = this.searched.get(key);
    if (found === undefined) {
      found = searchPlaces(this.layoutsOf(size), size.count, this.spacing(size), effort, like);
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
      const { places, own } = this.rooted;
      const way = { ...this.others, tabs: { width, cutHeight, height: cutHeight, places: [] } };
      const passes = searchPasses(passesFor(this.scene, way));
      found = new Layouts(this.scene, this.net, places, { width, height: cutHeight }, passes, this.grounded, own);
      this.layouts.set(key, found);
    }
    return found;
  }
}

/** The same for every plan of the job that is cut with the same cutter. */
function rootedPlaces(scene: HoldScene, net: StockNet, widest: Mm): Rooted {
  const key = `${widest} ${scene.cutter.diameter}`;
  const known = rootedOf.get(net) ?? new Map<string, Rooted>();
  rootedOf.set(net, known);
  let rooted = known.get(key);
  if (rooted === undefined) {
    const free = candidates(scene, widest);
    const places = free.places.filter((p) =>
      scene.job.places.every((_, i) => net.root(layOn(scene, i, p).root) !== null),
    );
    rooted = { ...free, places, rootless: free.places.length - places.length, own: ownTable(scene, places) };
    known.set(key, rooted);
  }
  return rooted;
}

const rootedOf = new WeakMap<StockNet, Map<string, Rooted>>();

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
  const forces = furthest(pass.forces, Math.PI / 4);
  const hollow = pass.hollowForces === pass.forces ? forces : furthest(pass.hollowForces, Math.PI / 4);
  return { ...pass, forces, hollowForces: hollow };
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
  return rise / Math.tan(toRad(plan.tabRamp.upDeg)) + rise / Math.tan(toRad(plan.tabRamp.downDeg));
}
