/** How much stock to buy: pieces of the job's stock from a standard flat bar, or from a plate when no bar is wide enough. */
import type { Mm } from '../../base/units.ts';
import { FLAT_BAR_WIDTHS } from '../../trade/stock.ts';

export type Supply =
  | { readonly kind: 'bar'; readonly width: Mm; readonly pieceLength: Mm; readonly pieces: readonly BarPieces[] }
  | { readonly kind: 'plate'; readonly size: readonly [Mm, Mm]; readonly pieces: number };

export interface BarPieces {
  readonly barLength: Mm;
  readonly count: number;
}

/** A saw cut and what squaring its end takes (common practice). */
export const SAW_CUT: Mm = 3;
/** Lengths in which flat bar is sold to small workshops (common practice). */
const BAR_LENGTHS: readonly Mm[] = [500, 1000];
/** A usual small cut of plate (common practice). */
const PLATE: readonly [Mm, Mm] = [500, 250];

/** `size`: length and width of the stock in either order. The bar is no wider than it must be; either side may lie along it. */
export function supplyOf(size: readonly [Mm, Mm]): Supply {
  const [short, long] = [Math.min(...size), Math.max(...size)];
  const width = FLAT_BAR_WIDTHS.sizes.find((w) => w >= short - 1e-9);
  if (width === undefined) {
    const across = (a: Mm, b: Mm): number => piecesIn(PLATE[0], a) * piecesIn(PLATE[1], b);
    return { kind: 'plate', size: PLATE, pieces: Math.max(across(short, long), across(long, short)) };
  }
  const pieces = BAR_LENGTHS.map((barLength) => ({ barLength, count: piecesIn(barLength, long) }));
  return { kind: 'bar', width, pieceLength: long, pieces };
}

/** n pieces need n - 1 cuts. */
function piecesIn(whole: Mm, piece: Mm): number {
  return Math.floor((whole + SAW_CUT + 1e-9) / (piece + SAW_CUT));
}
