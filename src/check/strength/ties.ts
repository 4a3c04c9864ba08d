/** What the metal left at a tab or stub bears before it yields: a short bar between two walls, its flanks hollowed by the round cutter. */
import type { Mm, Newton, Stress } from '../../base/units.ts';
import type { Point } from '../../geometry/types.ts';
import type { Tie } from './collapse.ts';

export interface Bar {
  /** On the part's edge. */
  readonly at: Point;
  readonly out: Point;
  /** Least width. */
  readonly waist: Mm;
  readonly height: Mm;
  /** Of the narrowest cutter that ran beside it: half the length of the bar, and the round of its flanks. */
  readonly radius: Mm;
}

export interface Metal {
  /** Yield, or what breaks without yielding breaks at. */
  readonly stress: Stress;
  readonly brittle: boolean;
}

/** Shear over tension (von Mises). */
const SHEAR = 0.577;
/** Places between middle and wall at which the bar may fold. */
const FOLDS = 8;

export function barTie(bar: Bar, metal: Metal): Tie {
  const { waist: w, height: h, radius, out } = bar;
  if (!(w > 0 && h > 0)) return { at: bar.at, out, tip: () => 0, side: 0, turn: 0 };
  const shear = SHEAR * metal.stress * w * h;
  // Twisting: plastic, h^2 (3w - h)/6, of a flat bar; elastic takes a third less.
  const [long, short] = w > h ? [w, h] : [h, w];
  const twisting = SHEAR * metal.stress * ((short * short * (3 * long - short)) / 6) * (metal.brittle ? 2 / 3 : 1);
  const folds = Array.from({ length: FOLDS }, (_, i) => foldAt(bar, ((i + 1) / FOLDS) * radius, metal));
  const middle = radius;
  const tip = (rise: number, slope: number, twist: number) => {
    let least = shear * Math.abs(rise + middle * slope);
    for (const f of folds) {
      const up = rise + (middle - f.s) * slope;
      const link = -up / (2 * f.s);
      least = Math.min(least, f.upright * (Math.abs(link) + Math.abs(slope - link)));
    }
    return least + twisting * Math.abs(twist);
  };
  const side = folds.reduce((least, f) => Math.min(least, f.flat / f.s), shear);
  return {
    at: bar.at,
    out,
    tip,
    side,
    turn: folds.reduce((least, f) => Math.min(least, f.flat), Number.POSITIVE_INFINITY),
  };
}

interface Fold {
  /** From the middle of the bar. */
  readonly s: Mm;
  /** Moments that fold it up and sideways. */
  readonly upright: number;
  readonly flat: number;
}

/** A whole section yields at b d^2/4; what is brittle breaks when its outermost fibre does, b d^2/6. */
function foldAt({ waist, height, radius }: Bar, s: Mm, metal: Metal): Fold {
  const width = waist + 2 * (radius - Math.sqrt(Math.max(0, radius * radius - s * s)));
  const k = metal.stress / (metal.brittle ? 6 : 4);
  return { s, upright: k * width * height * height, flat: k * height * width * width };
}

/** Force that a bar bears which is cut into from above in its middle: both halves hold. */
export function barAlone(bar: Bar, metal: Metal): { readonly side: Newton; readonly up: Newton } {
  const tie = barTie(bar, metal);
  return { side: 2 * tie.side, up: 2 * tie.tip(1, 0, 0) };
}
