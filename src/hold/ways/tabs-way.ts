/** Tabs: number, size and places, by deterministic search over what the job leaves open. */
import { fault, type Problem } from '../../base/problem.ts';
import { short } from '../../base/text.ts';
import type { Mm } from '../../base/units.ts';
import type { TabRequest } from '../../part/part.ts';
import { TAB_RULES } from '../../trade/holding-rules.ts';
import type { GroundedSupports } from '../evaluate/grounded.ts';
import { candidates } from '../scene/candidates.ts';
import type { EdgePlace } from '../scene/edge.ts';
import type { StockNet } from '../scene/net.ts';
import type { HoldScene } from '../scene/scene.ts';
import { givenPlaces } from '../search/given-places.ts';
import type { ScoredLayout } from '../search/room.ts';
import { compareScores, type LayoutScore } from '../search/score.ts';
import type { SearchEffort } from '../search/search.ts';
import { fieldFor, spacingOf, type TabField } from '../search/tab-field.ts';
import { type HoldWay, NO_WAY, type TabsWay } from '../way.ts';
import { tabMinutes } from './effort.ts';

export type TabsChoice =
  | {
      readonly kind: 'tabs';
      readonly tabs: TabsWay;
      readonly footprint: Mm;
      /** Of the places chosen; null when the job gives them. */
      readonly score: LayoutScore | null;
      readonly reasons: readonly string[];
    }
  | { readonly kind: 'refused'; readonly problems: readonly Problem[] };

export const NO_TAB_REQUEST: TabRequest = { count: null, width: null, height: null, lightenTo: null, at: null };

/** What is asked of the tabs, and of what else holds the part. */
export interface TabsRequest {
  readonly request: TabRequest;
  readonly others: Omit<HoldWay, 'tabs'>;
  readonly reasons: readonly string[];
}

/** `grounded`: by part, what holds besides the tabs; empty when they hold alone. */
export function chooseTabs(
  scene: HoldScene,
  net: StockNet,
  asked: TabsRequest,
  grounded: readonly GroundedSupports[],
  effort: SearchEffort,
): TabsChoice {
  if (asked.request.at) return givenTabs(scene, asked.request);
  return new TabSearch(scene, net, asked, grounded).run(effort);
}

interface Size {
  readonly count: number;
  readonly width: Mm;
  readonly cutHeight: Mm;
  readonly height: Mm;
}

/** Sizes tried are no more than this: the cheapest to clean up first. */
const MOST_SIZES = 8;

/** Margin over wanted at which no larger size is tried: the search's fewer force cases may overlook up to a tenth. */
const ENOUGH = 1.1 - 1e-9;

class TabSearch {
  private readonly scene: HoldScene;
  private readonly request: TabRequest;
  private readonly helped: boolean;
  private readonly field: TabField;

  constructor(
    scene: HoldScene,
    net: StockNet,
    { request, others }: TabsRequest,
    grounded: readonly GroundedSupports[],
  ) {
    this.scene = scene;
    this.request = request;
    this.helped = grounded.length > 0;
    // Places that take the widest tab tried take every other.
    const widest = Math.max(...sizesOf(scene, request, this.helped).map((s) => s.width));
    this.field = fieldFor(scene, net, widest, others, grounded);
  }

  run(effort: SearchEffort): TabsChoice {
    const sizes = sizesOf(this.scene, this.request, this.helped);
    const fitting = sizes.filter((s) => this.fits(s));
    if (fitting.length === 0) return { kind: 'refused', problems: [this.noRoom(sizes[0]!)] };
    let best: { readonly size: Size; readonly found: ScoredLayout } | null = null;
    let previous: ScoredLayout | null = null;
    let tried = 0;
    for (const size of fitting.slice(0, MOST_SIZES)) {
      const found: ScoredLayout | null =
        fitting.length > 1 ? this.field.tryOut(size, previous) : this.field.search(size, effort);
      if (found === null) continue;
      previous = found;
      tried++;
      if (best === null || compareScores(found.score, best.found.score) < 0) best = { size, found };
      if (fitting.length > 1 && found.score.margin >= ENOUGH && found.score.movement <= 1 + 1e-9) {
        best = { size, found };
        break;
      }
    }
    if (best === null) return { kind: 'refused', problems: [this.noRoom(fitting[0]!)] };
    const again = this.field.search(best.size, effort);
    const found = again !== null && compareScores(again.score, best.found.score) <= 0 ? again : best.found;
    return this.chosen(best.size, found, tried);
  }

  private fits(size: Size): boolean {
    const { footprint, free } = this.field.spacing(size);
    const { places, length } = this.field.rooted;
    return size.count <= places.length && size.count * footprint + free <= length;
  }

  private noRoom(size: Size): Problem {
    const { footprint } = this.field.spacing(size);
    const { rootless, places, leftOut, length } = this.field.rooted;
    const found = places.length;
    if (rootless > 0) return noRoot(size.count, found, found + rootless);
    if (found < size.count) return noEdge(size.count, found, leftOut);
    return tooMany(size.count, footprint, length);
  }

  private chosen(size: Size, found: ScoredLayout, tried: number): TabsChoice {
    const { footprint } = this.field.spacing(size);
    const { places: all, leftOut: left } = this.field.rooted;
    const places = found.layout.map((n) => all[n]!);
    return {
      kind: 'tabs',
      tabs: { width: size.width, cutHeight: size.cutHeight, height: size.height, places },
      footprint,
      score: found.score,
      reasons: [
        sizeWords(size.count, size.width, size.cutHeight, size.height) + triedWords(found, tried),
        `places by least movement, then greatest margin, then ease of sawing, from ${all.length} round the edge` +
          (left.length > 0 ? `, leaving out ${left.join(', ')}` : ''),
      ],
    };
  }
}

const USUAL_WIDTH: Mm = 2;
const HEIGHTS: readonly Mm[] = [0.4, 0.5, 0.6, 0.8, 1, 1.2, 1.5];
/** Most of the plate's thickness that a tab is high: above, it is no tab but the frame itself (common practice). */
const HIGHEST_SHARE = 0.6;

/** What the job leaves open, the least to clean up first. */
function sizesOf(scene: HoldScene, request: TabRequest, helped: boolean): readonly Size[] {
  const t = scene.thickness;
  const small = scene.cutter.diameter <= 4;
  const widths = request.width === null ? (small ? [1.5, 2, 2.5, 3] : [2, 3, 4, 5]) : [request.width];
  const low = Math.max(TAB_RULES.leastHeight.value, Math.min(TAB_RULES.height.low, 0.3 * t));
  const heights =
    request.height === null
      ? [low, ...HEIGHTS.filter((h) => h > low + 1e-9 && h <= HIGHEST_SHARE * t + 1e-9)]
      : [request.height];
  const least = helped ? 1 : TAB_RULES.leastCount.value;
  const counts = request.count === null ? [least, least + 1, least + 2] : [request.count];
  const sizes = counts.flatMap((count) =>
    widths.flatMap((width) =>
      heights.map((cutHeight): Size => {
        const height = Math.min(request.lightenTo ?? cutHeight, cutHeight);
        return { count, width, cutHeight, height };
      }),
    ),
  );
  const cost = (s: Size) => s.count * tabMinutes(s.width, s.height);
  const sorted = sizes.sort((a, b) => cost(a) - cost(b) || a.count - b.count || a.width - b.width);
  // Spread over the whole range, so that the strongest is among those tried.
  if (sorted.length <= MOST_SIZES) return sorted;
  return Array.from(
    { length: MOST_SIZES },
    (_, i) => sorted[Math.round((i * (sorted.length - 1)) / (MOST_SIZES - 1))]!,
  );
}

/** Places the job itself gives: nothing is searched. */
function givenTabs(scene: HoldScene, request: TabRequest): TabsChoice {
  const { places, problems } = givenPlaces(scene, request.at!, request.width ?? USUAL_WIDTH);
  if (problems.length > 0) return { kind: 'refused', problems };
  const size = sizesOf(scene, { ...request, count: places.length, width: request.width ?? USUAL_WIDTH }, false)[0]!;
  const { footprint, length } = spacingOf(scene, size.width, size.cutHeight, candidates(scene, size.width).length);
  if (places.length * footprint > length * 0.95) {
    return { kind: 'refused', problems: [tooMany(places.length, footprint, length)] };
  }
  const { width, cutHeight, height } = size;
  const { hold } = scene.job;
  const asked = hold.by === 'tabs' || hold.by === 'screws' ? (hold.tabs?.at ?? null) : null;
  const where =
    request.at === asked ? 'tabs where the job puts them' : 'at the same places as the tabs that are not thinned';
  const sorted: readonly EdgePlace[] = [...places].sort((a, b) => a.s - b.s);
  return {
    kind: 'tabs',
    tabs: { width, cutHeight, height, places: sorted },
    footprint,
    score: null,
    reasons: [sizeWords(places.length, width, cutHeight, height), where],
  };
}

/** Sizes are tried from the least to clean up; where none holds, the one that comes nearest is taken. */
function triedWords(found: ScoredLayout, tried: number): string {
  if (tried < 2) return '';
  const holds = found.score.margin >= 1 - 1e-9 && found.score.movement <= 1 + 1e-9;
  return holds
    ? `, the least to clean up that holds, of ${tried} sizes tried`
    : `, the one that comes nearest of ${tried} sizes tried, none of which is enough`;
}

function sizeWords(count: number, width: Mm, cutHeight: Mm, height: Mm): string {
  const thin = height < cutHeight ? `, thinned to ${short(height)} mm at the end` : '';
  return `${count} ${count === 1 ? 'tab' : 'tabs'} ${short(width)} mm wide and ${short(cutHeight)} mm high${thin}`;
}

function noEdge(count: number, found: number, leftOut: readonly string[]): Problem {
  return fault({
    code: 'tab-no-edge',
    at: { path: 'hold' },
    found: `${count} tabs are wanted and ${found} places are free${leftOut.length > 0 ? ` (left out: ${leftOut.join(', ')})` : ''}`,
    wanted: 'enough free edge',
    remedy: 'ask for fewer tabs, or name fewer stretches in "noTabs"',
  });
}

function noRoot(count: number, rooted: number, free: number): Problem {
  return fault({
    code: 'tab-no-root',
    at: { path: 'hold' },
    found: `${count} tabs are wanted; of ${free} places free along the edge, ${rooted} have frame within reach that a clamp holds`,
    wanted: 'a frame, joined to a clamp, for every tab to be rooted in',
    remedy: 'move the part or a clamp, use larger stock or a wider rail, or hold it with glue or screws',
  });
}

function tooMany(count: number, footprint: Mm, length: Mm): Problem {
  return fault({
    code: 'tab-too-many',
    at: { path: 'hold' },
    found: `${count} tabs take ${short(count * footprint, 1)} mm of ${short(length, 1)} mm of edge (each ${short(footprint, 1)} mm with its ramps)`,
    wanted: 'free edge between them where the cutter can go to full depth',
    remedy: 'ask for fewer, narrower or lower tabs, or use a smaller or centre-cutting cutter, whose ramps are shorter',
  });
}

/** All but what is asked of them. */
export const TABS_ALONE: Omit<TabsRequest, 'request'> = { others: { ...NO_WAY, by: 'tabs' }, reasons: [] };
