/** Which fit for which job, and the general tolerances of drawings. */
import type { Mm } from '../base/units.ts';
import type { Sourced } from './source.ts';

export interface FitAdvice extends Sourced {
  readonly hole: string;
  readonly shaft: string;
  readonly feel: string;
  readonly use: string;
}

const advice = (hole: string, shaft: string, feel: string, use: string): FitAdvice => ({
  hole,
  shaft,
  feel,
  use,
  source: 'hole-basis fits as practised',
  mark: 'common practice',
});

/** Hole-basis fits, loosest first. */
export const FITS: readonly FitAdvice[] = [
  advice('H11', 'h11', 'loose', 'bolts and spacers that need no guidance'),
  advice('H9', 'd9', 'easy running', 'long shafts, several bearings, dirt'),
  advice('H8', 'f7', 'running', 'pivots with oil, wheels that turn fast'),
  advice('H7', 'g6', 'close running', 'levers and pawls on their arbors'),
  advice('H7', 'h6', 'sliding', 'location by hand, parts that are taken off'),
  advice('H7', 'k6', 'light tap', 'location without play, taken off seldom'),
  advice('H7', 'n6', 'tight', 'bushes tapped in and kept'),
  advice('H7', 'p6', 'light press', 'pins and bushes pressed in thick walls'),
  advice('H7', 's6', 'press', 'bushes that must carry load by grip alone'),
];

export type GeneralClass = 'f' | 'm' | 'c' | 'v';

/** ISO 2768-1 general tolerance of a length, plus or minus; undefined below 0.5 and above 2000 mm, or where the class has none. */
export function generalTolerance(nominal: Mm, grade: GeneralClass): Mm | undefined {
  const step = GENERAL_STEPS.findIndex((upTo) => nominal <= upTo);
  return nominal < 0.5 || step < 0 ? undefined : (GENERAL_TOLERANCES[grade].values[step] ?? undefined);
}

/** Upper ends of the ISO 2768-1 ranges; the first starts at 0.5. */
export const GENERAL_STEPS: readonly Mm[] = [3, 6, 30, 120, 400, 1000, 2000];

const general = (...values: (Mm | null)[]): Sourced & { readonly values: readonly (Mm | null)[] } => ({
  values,
  source: 'ISO 2768-1 Table 1, in handfest.engineer',
  mark: 'published',
});
export const GENERAL_TOLERANCES: Readonly<Record<GeneralClass, Sourced & { readonly values: readonly (Mm | null)[] }>> =
  {
    f: general(0.05, 0.05, 0.1, 0.15, 0.2, 0.3, 0.5),
    m: general(0.1, 0.1, 0.2, 0.3, 0.5, 0.8, 1.2),
    c: general(0.2, 0.3, 0.5, 0.8, 1.2, 2, 3),
    v: general(null, 0.5, 1, 1.5, 2.5, 4, 6),
  };
