/** Rules for drilling, reaming and tapping. Millimetres, mm a turn, m/min. */
import type { Mm } from '../base/units.ts';
import type { Material } from './materials/material-rows.ts';
import { type Figure, type FigureRange, figure, type Sourced, span } from './source.ts';

/**
 * Drill feed, mm a turn: the hand rule of the material times the diameter, never above the published band of that
 * diameter. It is not raised to the foot of the band: small drills break before they rub.
 */
export function drillFeed(diameter: Mm, m: Material): Figure {
  const band = DRILL_FEED_BANDS.find((b) => diameter <= b.upTo) ?? DRILL_FEED_BANDS.at(-1)!;
  const byRule = m.drillFeedPerDiameter.value * diameter;
  return byRule <= band.high
    ? figure(byRule, m.drillFeedPerDiameter.source, 'computed')
    : figure(band.high, band.source, 'published');
}

export interface FeedBand extends FigureRange {
  readonly upTo: Mm;
}

const band = (upTo: Mm, low: number, high: number): FeedBand => ({
  upTo,
  ...span(low, high, 'ProtoCutter speed and feed tables, drill feeds', 'published'),
});
export const DRILL_FEED_BANDS: readonly FeedBand[] = [
  band(3.2, 0.025, 0.076),
  band(6.4, 0.05, 0.15),
  band(12.7, 0.1, 0.25),
];

/** Factors on speed and feed for a hole `depth` deep, measured in diameters; 1 for shallow holes. */
export function deepHoleFactors(depthInDiameters: number): Sourced & { readonly speed: number; readonly feed: number } {
  const row = DEEP_HOLES.findLast((r) => depthInDiameters >= r.depth);
  return row ?? { speed: 1, feed: 1, source: DEEP_SOURCE, mark: 'published' };
}

const DEEP_SOURCE = 'Metal drilling reference guide, deep-hole reductions';
const deep = (depth: number, speed: number, feed: number): DeepHole => ({
  depth,
  speed,
  feed,
  source: DEEP_SOURCE,
  mark: 'published',
});
export interface DeepHole extends Sourced {
  /** In diameters. */
  readonly depth: number;
  readonly speed: number;
  readonly feed: number;
}
/** 6D: 35-40 % off the speed; the lower is used. */
export const DEEP_HOLES: readonly DeepHole[] = [
  deep(3, 0.9, 0.9),
  deep(4, 0.8, 0.9),
  deep(5, 0.7, 0.8),
  deep(6, 0.6, 0.8),
];

/** First and next pecks in mm; null: no pecking. Below 2 mm every peck is half a diameter. */
export function peckDepths(diameter: Mm, depth: Mm, m: Material): { readonly first: Mm; readonly next: Mm } | null {
  if (diameter < 2) return depth <= 0.5 * diameter ? null : { first: 0.5 * diameter, next: 0.5 * diameter };
  const first = (m.peck.first ?? 3) * diameter;
  return depth <= first ? null : { first, next: m.peck.next * diameter };
}

/** Stock on diameter that a reamer wants, and the small-shop figure used when nothing else is said. */
export interface ReamingStock extends FigureRange {
  readonly upTo: Mm;
  readonly usual: Mm;
}

export function reamingStock(diameter: Mm): ReamingStock {
  return REAMING_STOCK.find((r) => diameter <= r.upTo) ?? REAMING_STOCK.at(-1)!;
}

const ream = (upTo: Mm, low: Mm, high: Mm, usual: Mm): ReamingStock => ({
  upTo,
  usual,
  ...span(low, high, 'IBE trainee reaming handbook (undersize); usual figure of small shops', 'published'),
});
export const REAMING_STOCK: readonly ReamingStock[] = [
  ream(5, 0.1, 0.2, 0.1),
  ream(10, 0.2, 0.3, 0.2),
  ream(20, 0.2, 0.3, 0.3),
  ream(50, 0.3, 0.5, 0.3),
];

/** The IBE handbook takes this many times the stock for light and for tough metals. */
export const REAMING_STOCK_LIGHT_OR_TOUGH: Figure = figure(1.5, 'IBE trainee reaming handbook', 'published');

/** Reamer feed in drill feeds, and by flute. */
export const REAM_FEED_FACTOR: FigureRange = span(2, 3, 'ProtoCutter tables; trade rule', 'published');
/** Reaming speed over drilling speed. */
export const REAM_SPEED_FACTOR: FigureRange = span(1 / 2, 2 / 3, 'trade rule', 'common practice');
/** How far a reamer goes through beyond its lead. */
export const REAM_OVERRUN: FigureRange = span(1, 2, 'through-reaming overrun', 'common practice');

/** Tapping on a home machine, m/min; production speeds are 10-20 (Yamawa catalogue 2016/17) and far beyond it. */
export const TAP_SPEED_LIGHT: FigureRange = span(3, 8, 'home machine, or by hand', 'common practice');

/** A through drill goes on until its full diameter has passed by this much. */
export const BREAKTHROUGH: FigureRange = span(0.5, 1, 'break-through allowance of through holes', 'common practice');
/**
 * Drills wider than `from` follow a pilot on a light machine, `share` of their diameter: wider than the web, so that the chisel
 * edge, which makes half the thrust, cuts nothing; not much wider, or the lips snatch.
 */
export const PILOT = {
  from: figure(6, 'pilot drills on light machines', 'common practice'),
  share: span(0.3, 0.5, 'pilot drills on light machines', 'common practice'),
  /** Machines of this power and more drill from the solid. */
  power: figure(1000, 'light machines are 200-750 W', 'common practice'),
} as const;
/** Depth of a plain starting spot in drill diameters. */
export const SPOT_START: FigureRange = span(0.3, 0.5, 'spot drilling rule', 'common practice');
