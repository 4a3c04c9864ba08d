/**
 * CONTRACT: what holds each part, and how well. Program coordinates; heights of tabs and floor count up from the part's
 * lower face (z = -thickness).
 */
import type { Deg, Mm, NewtonPerMm } from '../base/units.ts';
import type { Point } from '../geometry/types.ts';

export const HOLD_KINDS = ['tabs', 'floor', 'screws', 'glue', 'stub'] as const;
export type HoldKind = (typeof HOLD_KINDS)[number];

export interface Holding {
  /** For a combination: the stiffest. */
  readonly by: HoldKind;
  /** Every tab left standing, whatever `by` says. */
  readonly tabs: readonly Tab[];
  /** Floor left under the part; null: cut through. */
  readonly floor: Mm | null;
  /** Indexes of the holes that carry screws; empty unless screws hold. */
  readonly screws: readonly number[];
  readonly screwThread: string | null;
  readonly glue: { readonly shear: number; readonly tension: number; readonly wetted: number } | null;
  readonly stub: { readonly at: Point; readonly directionDeg: Deg; readonly width: Mm } | null;
  /** Least width of the frame of stock round the parts. */
  readonly rail: Mm;
  readonly reasons: readonly string[];
}

export interface Tab {
  readonly part: number;
  /** On the part's edge, program coordinates. */
  readonly at: Point;
  /** Outward normal there, degrees counter-clockwise from X. */
  readonly directionDeg: Deg;
  /** Least waist. */
  readonly width: Mm;
  /** As left at the end. */
  readonly height: Mm;
  /** Before lightening; equal to `height` when not lightened. */
  readonly cutHeight: Mm;
  /** Length of edge not cut to full depth, ramps included. */
  readonly footprint: Mm;
}

/** How well one way of holding does, against what is wanted. */
export interface HoldScore {
  readonly by: HoldKind;
  readonly margin: { readonly least: number; readonly wanted: number };
  readonly movement: { readonly most: Mm; readonly wanted: Mm };
  readonly cutterDeflection: Mm;
  /** Bench minutes to clean up after. */
  readonly effortMinutes: number;
  readonly verdict: string;
  readonly possible: boolean;
}

export type { NewtonPerMm };
