/** Right sides through a factored tree. Forward alone answers for movements under unit loads: C = (L^-1 B)^T (L^-1 B). */
import type { Condensed, Front } from './tree.ts';

/** A load, or what is measured, as weights on unknowns. */
export interface Weights {
  readonly dofs: readonly number[];
  readonly values: readonly number[];
}

export interface Reduced {
  /** kept.length rows, a column for each right side: what of it is felt at the kept unknowns. */
  readonly kept: Float64Array;
  /** Work of each right side on each other within, columns squared. */
  readonly within: Float64Array;
}

/** Right sides as rows of `width` numbers, one for each unknown. */
function rows(place: ReadonlyMap<number, number>, sides: readonly Weights[]): Float64Array {
  const b = new Float64Array(place.size * sides.length);
  sides.forEach(({ dofs, values }, c) => {
    dofs.forEach((d, i) => {
      const at = place.get(d);
      if (at !== undefined) b[at * sides.length + c]! += values[i]!;
    });
  });
  return b;
}

export function reduce(body: Condensed, sides: readonly Weights[]): Reduced {
  const width = sides.length;
  const x = rows(body.place, sides);
  const within = new Float64Array(width * width);
  for (const front of body.fronts) {
    const active = columnsOf(front, x, width);
    if (active.length === 0) continue;
    forward(front, x, width, active);
    gather(within, x, { front, width, active });
  }
  for (let i = 0; i < width; i++) for (let j = 0; j < i; j++) within[j * width + i] = within[i * width + j]!;
  const kept = new Float64Array(body.kept.length * width);
  body.keptPlaces.forEach((d, i) => {
    kept.set(x.subarray(d * width, (d + 1) * width), i * width);
  });
  return { kept, within };
}

/** Right sides that have reached a front: most loads stand in one corner of the body. */
function columnsOf({ dofs, count }: Front, x: Float64Array, width: number): Int32Array {
  const out: number[] = [];
  for (let c = 0; c < width; c++) {
    for (let i = 0; i < count; i++) {
      if (x[dofs[i]! * width + c] !== 0) {
        out.push(c);
        break;
      }
    }
  }
  return Int32Array.from(out);
}

function forward({ dofs, count, lower }: Front, x: Float64Array, width: number, active: Int32Array): void {
  const m = active.length;
  const y = new Float64Array(count * m);
  const sum = new Float64Array(m);
  for (let i = 0; i < dofs.length; i++) {
    const at = dofs[i]! * width;
    for (let c = 0; c < m; c++) sum[c] = x[at + active[c]!]!;
    const most = Math.min(i, count);
    for (let k = 0; k < most; k++) {
      const l = lower[i * count + k]!;
      if (l === 0) continue;
      const row = k * m;
      for (let c = 0; c < m; c++) sum[c]! -= l * y[row + c]!;
    }
    if (i < count) {
      const by = 1 / lower[i * count + i]!;
      for (let c = 0; c < m; c++) y[i * m + c] = sum[c]! * by;
      for (let c = 0; c < m; c++) x[at + active[c]!] = y[i * m + c]!;
    } else for (let c = 0; c < m; c++) x[at + active[c]!] = sum[c]!;
  }
}

function gather(
  within: Float64Array,
  x: Float64Array,
  { front, width, active }: { readonly front: Front; readonly width: number; readonly active: Int32Array },
): void {
  for (let i = 0; i < front.count; i++) {
    const at = front.dofs[i]! * width;
    for (let a = 0; a < active.length; a++) {
      const ca = active[a]!;
      const v = x[at + ca]!;
      if (v === 0) continue;
      for (let b = 0; b <= a; b++) within[ca * width + active[b]!]! += v * x[at + active[b]!]!;
    }
  }
}

/** Forward over all columns in place: rows of `width`. Kept rows hold what is felt there. */
export function forwardAll(body: Condensed, x: Float64Array, width: number): void {
  const active = Int32Array.from({ length: width }, (_, c) => c);
  for (const front of body.fronts) forward(front, x, width, active);
}

/** Backward in place, the kept rows given: movements of all unknowns. */
export function backward(body: Condensed, x: Float64Array, width: number): void {
  for (let f = body.fronts.length - 1; f >= 0; f--) {
    const { dofs, count, lower } = body.fronts[f]!;
    for (let i = dofs.length - 1; i >= 0; i--) {
      const at = dofs[i]! * width;
      if (i < count) {
        const by = 1 / lower[i * count + i]!;
        for (let c = 0; c < width; c++) x[at + c]! *= by;
      }
      const most = Math.min(i, count);
      for (let k = 0; k < most; k++) {
        const l = lower[i * count + k]!;
        if (l === 0) continue;
        const row = dofs[k]! * width;
        for (let c = 0; c < width; c++) x[row + c]! -= l * x[at + c]!;
      }
    }
  }
}
