/** What one row of a thread table holds, for every family. Lengths in millimetres. */
import type { Deg, Mm } from '../../base/units.ts';
import type { Sourced } from '../source.ts';

export type ThreadFamily = 'metric coarse' | 'metric fine' | 'BA' | 'ME' | 'UNC' | 'UNF';

export interface TapDrill extends Sourced {
  readonly diameter: Mm;
  /** As marked on the drill. */
  readonly name: string;
}

export interface LargestMinor extends Sourced {
  readonly diameter: Mm;
  /** Tolerance class it belongs to, in words of its standard. */
  readonly class: string;
}

export interface Thread extends Sourced {
  /** The one canonical spelling: `M3`, `M3x0.35`, `6BA`, `ME 1/4x40`, `2-56 UNC`. */
  readonly name: string;
  readonly family: ThreadFamily;
  readonly angle: Deg;
  readonly pitch: Mm;
  /** Basic major diameter D. */
  readonly major: Mm;
  /** Basic pitch (effective) diameter D2. */
  readonly pitchDiameter: Mm;
  /** Basic minor diameter D1 of the nut: the least hole a tap can be asked to enter. */
  readonly minor: Mm;
  /** Largest minor diameter the standard allows, or the nearest thing to it, marked as such. */
  readonly largestMinor: LargestMinor;
  readonly tapDrill: TapDrill;
}

/** Places of decimals to which standards print thread diameters (0.001 mm). */
export function micron(value: Mm): Mm {
  return Math.round(value * 1000) / 1000;
}
