/**
 * The one stated score of a layout of tabs. In this order: margin that is short of what is wanted; least most-movement,
 * over what is wanted; greatest margin; ease of sawing and filing. Each is compared in steps that a bench can tell apart,
 * so that a better place for the saw is not given up for a tenth of a micrometre.
 */
import { exponential, logarithm, power } from '../../base/powers.ts';

export interface LayoutScore {
  /** Part of the wanted margin that is missing, 0-1, in steps. */
  readonly short: number;
  /** Most movement over wanted, in steps, rounded up. */
  readonly movement: number;
  /** Least margin over wanted, in steps, rounded down, capped: more strength than that is of no use. */
  readonly margin: number;
  /** Mean ease of the places, 0-1. */
  readonly ease: number;
  /** Shortfall and movement as they are: the way downhill between steps. */
  readonly exact: { readonly short: number; readonly movement: number };
}

/** A micrometre of the 20 wanted in finishing: less is not measured on a light mill. */
export const MOVEMENT_STEP = 0.05;
const MARGIN_STEP = 0.1;
export const MARGIN_CAP = 2;
export const SHORT_STEP = 0.05;

export function layoutScore(movementRatio: number, marginRatio: number, ease: number): LayoutScore {
  return {
    short: stepUp(Math.max(0, 1 - marginRatio), SHORT_STEP),
    movement: movementStep(movementRatio),
    margin: Math.floor(Math.min(MARGIN_CAP, marginRatio) / MARGIN_STEP + 1e-9) * MARGIN_STEP,
    ease: Math.round(ease / ALIKE) * ALIKE,
    exact: { short: Math.max(0, 1 - marginRatio), movement: movementRatio },
  };
}

/** In steps of a micrometre up to what is wanted, of a twentieth beyond: the model itself is no finer. */
export function movementStep(ratio: number): number {
  if (ratio <= 1) return stepUp(ratio, MOVEMENT_STEP);
  return power(1 + MOVEMENT_STEP, Math.ceil(logarithm(ratio) / logarithm(1 + MOVEMENT_STEP) - 1e-9));
}

/** Negative: a is better. */
export function compareScores(a: LayoutScore, b: LayoutScore): number {
  return a.short - b.short || a.movement - b.movement || b.margin - a.margin || b.ease - a.ease;
}

/** Negative: a is further downhill, whatever the steps. */
export function compareExact(a: LayoutScore, b: LayoutScore): number {
  const d = downhill(a) - downhill(b);
  return Math.abs(d) < ALIKE ? 0 : d;
}

/** Layouts that mirror each other differ by rounding only: the one found first stays, whatever drawing the outline came from. */
const ALIKE = 1e-6;

/** Missing margin weighs as if it were that many times the movement allowed. */
export const SHORT_WEIGHT = 10;

export function downhill(s: LayoutScore): number {
  return SHORT_WEIGHT * s.exact.short + levelled(s.exact.movement);
}

/** Up to what is wanted as it is; beyond, by how many times over: a part that moves far anyhow is to be held at all first. */
export function levelled(movement: number): number {
  return movement <= 1 ? movement : 1 + logarithm(movement);
}

export function unlevelled(level: number): number {
  return level <= 1 ? level : exponential(level - 1);
}

export type Comparison = 'stepped' | 'exact';

export function better(a: LayoutScore, b: LayoutScore, by: Comparison): boolean {
  return (by === 'exact' ? compareExact(a, b) : compareScores(a, b)) < 0;
}

function stepUp(v: number, step: number): number {
  return Math.ceil(v / step - 1e-9) * step;
}
