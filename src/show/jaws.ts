/** A vice's jaws on a drawing. */
import type { Mm } from '../base/units.ts';

/** Seen from above: x and y of two corners. */
export type JawStrip = readonly [minX: Mm, minY: Mm, maxX: Mm, maxY: Mm];

/** One jaw at each end of their axis: it grips `grip` of the stock and is drawn standing `out` beyond it. */
export function jawStrips(
  { axis, grip }: { readonly axis: 'x' | 'y'; readonly grip: Mm },
  stock: { readonly min: readonly Mm[]; readonly max: readonly Mm[] },
  out: Mm,
): readonly [JawStrip, JawStrip] {
  const [x0 = 0, y0 = 0] = stock.min;
  const [x1 = 0, y1 = 0] = stock.max;
  const near: JawStrip = axis === 'x' ? [x0 - out, y0, x0 + grip, y1] : [x0, y0 - out, x1, y0 + grip];
  const far: JawStrip = axis === 'x' ? [x1 - grip, y0, x1 + out, y1] : [x0, y1 - grip, x1, y1 + out];
  return [near, far];
}
