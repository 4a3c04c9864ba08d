/**
 * A field of stock that is cut step by step, at any of its moments: copies are kept on the way, so that each moment is a short run from
 * one of them.
 */
import { Sweeper } from './cutter.ts';
import type { Field } from './field.ts';

/** Copies kept of a field. */
export const MOMENTS_KEPT = 16;
/** Bound on the cells of a field with a history: as many copies of so many single-precision heights are 40 MB. */
export const MOST_CELLS = 600_000;

/** Cuts step `index` from 0, or the first `share` of it; lifts the sweeper where the step cuts nothing. */
export type CutStep = (sweeper: Sweeper, index: number, share: number) => void;

export class FieldHistory {
  readonly field: Field;
  readonly sweeper: Sweeper;
  /** Number of all steps. */
  private readonly steps: number;
  private readonly cut: CutStep;
  private readonly stride: number;
  private readonly kept: Float32Array[] = [];
  /** Steps done, with the share of the next. */
  private position = 0;

  /** `field` is whole yet, and belongs to the history from here on. */
  constructor(field: Field, steps: number, cut: CutStep) {
    this.field = field;
    this.steps = steps;
    this.cut = cut;
    this.sweeper = new Sweeper(field);
    this.stride = Math.max(1, Math.ceil(steps / MOMENTS_KEPT));
    this.keep(0);
  }

  /** Brings the field to `position` (steps done, a share of the next counted in) and returns its heights, not a copy. */
  seek(position: number): Float32Array {
    const wanted = Math.max(0, Math.min(this.steps, position));
    if (wanted < this.position) this.restore(wanted);
    const whole = Math.floor(wanted);
    for (let i = Math.floor(this.position); i < whole; i++) {
      this.keep(i);
      this.cut(this.sweeper, i, 1);
    }
    if (wanted > whole) {
      this.cut(this.sweeper, whole, wanted - whole);
      this.sweeper.lift();
    }
    this.position = wanted;
    return this.field.heights;
  }

  private restore(wanted: number): void {
    const k = Math.min(Math.floor(wanted / this.stride), this.kept.length - 1);
    this.field.heights.set(this.kept[k]!);
    this.position = k * this.stride;
    this.sweeper.lift();
  }

  private keep(step: number): void {
    if (step === this.kept.length * this.stride) this.kept.push(this.field.heights.slice());
  }
}

/** Least count after which something that stays true is true; known true at `to`. */
export function firstWhere(from: number, to: number, holds: (count: number) => boolean): number {
  if (holds(from)) return from;
  let no = from;
  let yes = to;
  while (yes - no > 1) {
    const middle = (no + yes) >> 1;
    if (holds(middle)) yes = middle;
    else no = middle;
  }
  return yes;
}
