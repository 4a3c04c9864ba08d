/** How much stock to buy: pieces of the job's stock from a standard flat bar, or from a plate when no bar is wide enough. */
import type { Mm } from '../../../base/units.ts';
import { FLAT_BAR_WIDTHS, INCH_FLAT_BAR_WIDTHS } from '../../../trade/stock.ts';

export type Supply =
  | { readonly kind: 'bar'; readonly width: Mm; readonly pieceLength: Mm; readonly pieces: readonly BarPieces[] }
  | { readonly kind: 'plate'; readonly size: readonly [Mm, Mm]; readonly pieces: number };

export interface BarPieces {
  readonly barLength: Mm;
  readonly count: number;
}

interface Market {
  readonly widths: readonly Mm[];
  readonly bars: readonly Mm[];
  /** A usual small cut of plate. */
  readonly plate: readonly [Mm, Mm];
  /** A saw cut and what squaring its end takes. */
  readonly saw: Mm;
}

const IN: Mm = 25.4;

/** Lengths, cuts of plate and the saw cut are common practice of small workshops. */
const MARKETS: Readonly<Record<'mm' | 'inch', Market>> = {
  mm: { widths: FLAT_BAR_WIDTHS.sizes, bars: [500, 1000], plate: [500, 250], saw: 3 },
  inch: { widths: INCH_FLAT_BAR_WIDTHS.sizes, bars: [12 * IN, 36 * IN], plate: [24 * IN, 12 * IN], saw: IN / 8 },
};

export function sawCut(units: 'mm' | 'inch'): Mm {
  return MARKETS[units].saw;
}

/** `size`: length and width of the stock in either order. The bar is no wider than it must be; either side may lie along it. */
export function supplyOf(size: readonly [Mm, Mm], units: 'mm' | 'inch'): Supply {
  const { widths, bars, plate, saw } = MARKETS[units];
  const [short, long] = [Math.min(...size), Math.max(...size)];
  const width = widths.find((w) => w >= short - 1e-9);
  if (width === undefined) {
    const across = (a: Mm, b: Mm): number => piecesIn(plate[0], a, saw) * piecesIn(plate[1], b, saw);
    return { kind: 'plate', size: plate, pieces: Math.max(across(short, long), across(long, short)) };
  }
  const pieces = bars.map((barLength) => ({ barLength, count: piecesIn(barLength, long, saw) }));
  return { kind: 'bar', width, pieceLength: long, pieces };
}

/** n pieces need n - 1 cuts. */
function piecesIn(whole: Mm, piece: Mm, saw: Mm): number {
  return Math.floor((whole + saw + 1e-9) / (piece + saw));
}
