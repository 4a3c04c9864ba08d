/**
 * Compliance of a stiff part on a few tabs out of many, for searches that try thousands of layouts: as `hang`, without an
 * object a layout, and only for the tabs that differ from the layout before.
 */
import type { Vector } from '../cutting/cut.ts';
import { SINGULAR_PIVOT } from '../math/matrix.ts';
import { toLocal } from '../support/supports.ts';
import { type Connector, frameGive } from './hang.ts';
import type { NodeGive } from './plate.ts';

/** Connectors of order 6; null: a place that no tab can stand on. */
export class HungLayouts {
  private readonly give: NodeGive;
  private readonly connectors: readonly (Connector | null)[];
  /** By connector: motion of the part's origin to its own, 6x6. */
  private readonly motions: readonly (Float64Array | null)[];
  private readonly pairs = new Map<number, Float64Array>();
  private readonly grounded: Float64Array;

  /** The tabs that the tables below are filled for, as far as `ready`: those that stay from one layout to the next come first. */
  private order: number[] = [];
  private ready = 0;
  private size = 0;
  /** Cholesky factor of the flexibility, `size` numbers a row. */
  private lower = new Float64Array(0);
  /** The factor's inverse times the motions, 6 numbers a row. */
  private half = new Float64Array(0);
  private force = new Float64Array(0);
  /** 36 numbers a level: stiffness of what is on the ground and the first tabs. */
  private sums = new Float64Array(0);
  private shares: readonly Float64Array[] = [];
  private readonly compliance = new Float64Array(36);

  constructor(connectors: readonly (Connector | null)[], give: NodeGive, grounded: Float64Array, origin: Vector) {
    this.connectors = connectors;
    this.give = give;
    this.grounded = grounded;
    this.motions = connectors.map((c) => c && toLocal({ at: c.at, axes: c.axes, stiffness: NONE }, origin));
  }

  /**
   * Motion of the origin for a load about it, 36 numbers, good until the next call; null: loose, or a place without a tab.
   * `afresh`: the same to the last digit whatever was asked before.
   */
  complianceOf(layout: readonly number[], afresh = false): Float64Array | null {
    this.begin(layout, afresh);
    while (this.ready < layout.length) {
      if (!this.append(this.ready, this.order[this.ready]!)) return null;
      this.ready++;
    }
    return invert(this.sums, 36 * layout.length, this.compliance) ? this.compliance : null;
  }

  /** By tab, of the layout last asked for: load about the origin to local force on the tab, 6x6; good until the next call. */
  recovers(layout: readonly number[]): readonly Float64Array[] {
    const { size, lower, force } = this;
    force.set(this.half);
    for (let i = size - 1; i >= 0; i--) {
      const pivot = lower[i * size + i]!;
      for (let j = 0; j < 6; j++) {
        let sum = force[6 * i + j]!;
        for (let k = i + 1; k < size; k++) sum -= lower[k * size + i]! * force[6 * k + j]!;
        force[6 * i + j] = sum / pivot;
      }
    }
    for (let i = 0; i < layout.length; i++) {
      rowsTimes(force, 36 * this.order.indexOf(layout[i]!), this.compliance, this.shares[i]!);
    }
    return this.shares;
  }

  /** Keeps what is filled for the first tabs that stay; of the others, those that stay come next: one tab after another is moved. */
  private begin(layout: readonly number[], afresh: boolean): void {
    const count = layout.length;
    if (count !== this.order.length) {
      const size = 6 * count;
      this.size = size;
      this.order = [...layout];
      this.ready = 0;
      this.lower = new Float64Array(size * size);
      this.half = new Float64Array(6 * size);
      this.force = new Float64Array(6 * size);
      this.sums = new Float64Array(36 * (count + 1));
      this.sums.set(this.grounded);
      this.shares = layout.map(() => new Float64Array(36));
      return;
    }
    const { order } = this;
    if (afresh) {
      layout.forEach((n, i) => {
        order[i] = n;
      });
      this.ready = 0;
      return;
    }
    let kept = 0;
    while (kept < this.ready && layout.includes(order[kept]!)) kept++;
    this.ready = kept;
    let end = kept;
    for (let i = kept; i < count; i++) if (layout.includes(order[i]!)) order[end++] = order[i]!;
    for (let i = 0, old = end; i < count; i++) if (!isAmong(layout[i]!, order, old)) order[end++] = layout[i]!;
  }

  /** Six more rows of every table; false: no tab can stand there, or it has no flexibility of its own left. */
  private append(i: number, place: number): boolean {
    const motion = this.motions[place];
    if (!motion) return false;
    const { size, lower } = this;
    for (let j = 0; j <= i; j++) {
      const block = this.pair(place, this.order[j]!);
      for (let p = 0; p < 6; p++) {
        const row = (6 * i + p) * size + 6 * j;
        for (let q = 0; q < 6; q++) lower[row + q] = block[6 * p + q]!;
      }
    }
    eliminateSix(lower, size, i);
    if (!finishSix(lower, size, i)) return false;
    this.bring(i, motion);
    return true;
  }

  /** Rows of `half`, and what they add to the stiffness. */
  private bring(i: number, motion: Float64Array): void {
    const { size, lower, half, sums } = this;
    for (let r = 6 * i; r < 6 * i + 6; r++) {
      const own = 6 * (r - 6 * i);
      let s0 = motion[own]!;
      let s1 = motion[own + 1]!;
      let s2 = motion[own + 2]!;
      let s3 = motion[own + 3]!;
      let s4 = motion[own + 4]!;
      let s5 = motion[own + 5]!;
      const row = r * size;
      // Six sums side by side: a sum alone waits for each of its own steps.
      for (let k = 0, h = 0; k < r; k++, h += 6) {
        const l = lower[row + k]!;
        s0 -= l * half[h]!;
        s1 -= l * half[h + 1]!;
        s2 -= l * half[h + 2]!;
        s3 -= l * half[h + 3]!;
        s4 -= l * half[h + 4]!;
        s5 -= l * half[h + 5]!;
      }
      const pivot = lower[row + r]!;
      half[6 * r] = s0 / pivot;
      half[6 * r + 1] = s1 / pivot;
      half[6 * r + 2] = s2 / pivot;
      half[6 * r + 3] = s3 / pivot;
      half[6 * r + 4] = s4 / pivot;
      half[6 * r + 5] = s5 / pivot;
    }
    for (let p = 0; p < 6; p++) {
      for (let q = 0; q <= p; q++) {
        let sum = sums[36 * i + 6 * p + q]!;
        for (let r = 6 * i; r < 6 * i + 6; r++) sum += half[6 * r + p]! * half[6 * r + q]!;
        sums[36 * (i + 1) + 6 * p + q] = sum;
      }
    }
  }

  /** Give of the frame between two tabs; of a tab with itself its own flexibility as well. */
  private pair(a: number, b: number): Float64Array {
    const key = a * this.connectors.length + b;
    let found = this.pairs.get(key);
    if (found === undefined) {
      const c = this.connectors[a]!;
      found = frameGive(this.give, c, this.connectors[b]!);
      if (a === b) for (let k = 0; k < 36; k++) found[k]! += c.flexibility[k]!;
      this.pairs.set(key, found);
    }
    return found;
  }
}

const NONE = new Float64Array(36);

/** Whether it is among the first `count`. */
function isAmong(n: number, order: readonly number[], count: number): boolean {
  for (let i = 0; i < count; i++) if (order[i] === n) return true;
  return false;
}

/** The first 6 i columns of rows 6 i to 6 i + 5, as `eliminate` does them one row after another; six sums side by side. */
function eliminateSix(lower: Float64Array, size: number, i: number): void {
  const a = 6 * i * size;
  const b = a + size;
  const c = b + size;
  const d = c + size;
  const e = d + size;
  const f = e + size;
  for (let j = 0; j < 6 * i; j++) {
    const above = j * size;
    let s0 = lower[a + j]!;
    let s1 = lower[b + j]!;
    let s2 = lower[c + j]!;
    let s3 = lower[d + j]!;
    let s4 = lower[e + j]!;
    let s5 = lower[f + j]!;
    for (let k = 0; k < j; k++) {
      const l = lower[above + k]!;
      s0 -= lower[a + k]! * l;
      s1 -= lower[b + k]! * l;
      s2 -= lower[c + k]! * l;
      s3 -= lower[d + k]! * l;
      s4 -= lower[e + k]! * l;
      s5 -= lower[f + k]! * l;
    }
    const pivot = lower[above + j]!;
    lower[a + j] = s0 / pivot;
    lower[b + j] = s1 / pivot;
    lower[c + j] = s2 / pivot;
    lower[d + j] = s3 / pivot;
    lower[e + j] = s4 / pivot;
    lower[f + j] = s5 / pivot;
  }
}

const six = new Float64Array(36);
const owns = new Float64Array(6);

/** The last 6 columns of the same rows, as `eliminate` does them; false: not positive definite. */
function finishSix(lower: Float64Array, size: number, i: number): boolean {
  const from = 6 * i;
  for (let r = 0; r < 6; r++) {
    const row = (from + r) * size + from;
    owns[r] = lower[row + r]!;
    for (let c = 0; c < 6; c++) six[6 * r + c] = c > r ? 0 : lower[row + c]!;
  }
  for (let r = 0; r < 6; r += 2) takeTwoRows(lower, size, from, r);
  for (let r = 0; r < 6; r++) {
    for (let c = 0; c < r; c++) {
      let sum = six[6 * r + c]!;
      for (let k = 0; k < c; k++) sum -= six[6 * r + k]! * six[6 * c + k]!;
      six[6 * r + c] = sum / six[7 * c]!;
    }
    let pivot = six[7 * r]!;
    for (let k = 0; k < r; k++) pivot -= six[6 * r + k]! * six[6 * r + k]!;
    if (!(pivot > SINGULAR_PIVOT * Math.abs(owns[r]!))) return false;
    six[7 * r] = Math.sqrt(pivot);
    const row = (from + r) * size + from;
    for (let c = 0; c <= r; c++) lower[row + c] = six[6 * r + c]!;
  }
  return true;
}

/** What the columns before `from` take from rows `r` and `r + 1` of the six, two columns at a time: sums side by side. */
function takeTwoRows(lower: Float64Array, size: number, from: number, r: number): void {
  const a = (from + r) * size;
  const b = a + size;
  for (let c = 0; c <= r; c += 2) {
    const p = (from + c) * size;
    const q = p + size;
    let ap = six[6 * r + c]!;
    let aq = six[6 * r + c + 1]!;
    let bp = six[6 * r + 6 + c]!;
    let bq = six[6 * r + 7 + c]!;
    for (let k = 0; k < from; k++) {
      const la = lower[a + k]!;
      const lb = lower[b + k]!;
      const lp = lower[p + k]!;
      const lq = lower[q + k]!;
      ap -= la * lp;
      aq -= la * lq;
      bp -= lb * lp;
      bq -= lb * lq;
    }
    six[6 * r + c] = ap;
    six[6 * r + c + 1] = aq;
    six[6 * r + 6 + c] = bp;
    six[6 * r + 7 + c] = bq;
  }
}

/** Row `r` of a matrix becomes the row of its Cholesky factor, those above being done; false: not positive definite. */
function eliminate(lower: Float64Array, size: number, r: number): boolean {
  const row = r * size;
  const own = lower[row + r]!;
  for (let j = 0; j < r; j++) {
    let sum = lower[row + j]!;
    for (let k = 0; k < j; k++) sum -= lower[row + k]! * lower[j * size + k]!;
    lower[row + j] = sum / lower[j * size + j]!;
  }
  let pivot = own;
  for (let k = 0; k < r; k++) pivot -= lower[row + k]! * lower[row + k]!;
  if (!(pivot > SINGULAR_PIVOT * Math.abs(own))) return false;
  lower[row + r] = Math.sqrt(pivot);
  return true;
}

const factor = new Float64Array(36);
const column = new Float64Array(6);

/** Inverse of the symmetric 6x6 whose lower triangle begins at `from`, into `out`; false: singular. */
function invert(from: Float64Array, begin: number, out: Float64Array): boolean {
  for (let i = 0; i < 36; i++) factor[i] = from[begin + i]!;
  for (let r = 0; r < 6; r++) if (!eliminate(factor, 6, r)) return false;
  for (let j = 0; j < 6; j++) {
    for (let i = 0; i < 6; i++) {
      let sum = i === j ? 1 : 0;
      for (let k = j; k < i; k++) sum -= factor[6 * i + k]! * column[k]!;
      column[i] = i < j ? 0 : sum / factor[7 * i]!;
    }
    for (let i = 5; i >= j; i--) {
      let sum = column[i]!;
      for (let k = i + 1; k < 6; k++) sum -= factor[6 * k + i]! * column[k]!;
      column[i] = sum / factor[7 * i]!;
      out[6 * i + j] = column[i]!;
      out[6 * j + i] = column[i]!;
    }
  }
  return true;
}

/** 6x6 at `begin` times a 6x6, into `out`. */
function rowsTimes(a: Float64Array, begin: number, b: Float64Array, out: Float64Array): void {
  for (let i = 0; i < 6; i++) {
    for (let j = 0; j < 6; j++) {
      let sum = 0;
      for (let k = 0; k < 6; k++) sum += a[begin + 6 * i + k]! * b[6 * k + j]!;
      out[6 * i + j] = sum;
    }
  }
}
