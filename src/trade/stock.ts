/** Sizes stock is sold in, and how far a plate may be off its size. Millimetres. */
import type { Mm } from '../base/units.ts';
import type { Sourced, SourceMark } from './source.ts';

export interface SizeList extends Sourced {
  readonly what: string;
  readonly sizes: readonly Mm[];
}

const list = (what: string, sizes: readonly Mm[], source: string, mark: SourceMark): SizeList => ({
  what,
  sizes,
  source,
  mark,
});
export const FLAT_BAR_WIDTHS: SizeList = list(
  'flat bar widths',
  [10, 12, 15, 16, 20, 25, 30, 35, 40, 45, 50, 60, 80, 100],
  'stockholders’ lists',
  'common practice',
);
/** Inch sizes, in millimetres. */
export const INCH_FLAT_BAR_WIDTHS: SizeList = list(
  'flat bar widths in inches',
  [0.375, 0.5, 0.625, 0.75, 1, 1.25, 1.5, 2, 2.5, 3, 4].map((v) => v * 25.4),
  'stockholders’ lists',
  'common practice',
);

export type StockFinish = 'bright drawn' | 'hot rolled';

/** Thickness deviations of flat bar; undefined outside the tables. */
export function thicknessDeviation(
  thickness: Mm,
  finish: StockFinish,
): { readonly upper: Mm; readonly lower: Mm } | undefined {
  return FLAT_THICKNESS.find((r) => r.finish === finish && thickness > r.over && thickness <= r.upTo);
}

export interface FlatThickness extends Sourced {
  readonly finish: StockFinish;
  readonly over: Mm;
  readonly upTo: Mm;
  readonly upper: Mm;
  readonly lower: Mm;
}

const drawn = (over: Mm, upTo: Mm, lower: Mm): FlatThickness => ({
  finish: 'bright drawn',
  over,
  upTo,
  upper: 0,
  lower,
  source: 'EN 10278, h11',
  mark: 'published',
});
const rolled = (over: Mm, upTo: Mm, off: Mm): FlatThickness => ({
  finish: 'hot rolled',
  over,
  upTo,
  upper: off,
  lower: -off,
  source: 'EN 10058 in bssa.org.uk',
  mark: 'published',
});
export const FLAT_THICKNESS: readonly FlatThickness[] = [
  drawn(1, 3, -0.06),
  drawn(3, 6, -0.075),
  drawn(6, 10, -0.09),
  drawn(10, 18, -0.11),
  drawn(18, 30, -0.13),
  rolled(0, 20, 0.5),
  rolled(20, 40, 1),
];
