/**
 * Compliance of a stiff part on a few tabs out of many, for searches that try thousands of layouts: as `hang`, without an
 * object a layout, and only for the tabs that differ from the layout before.
 */
import type { Vector } from '../cutting/cut.ts';
import { eliminateRow } from '../math/matrix.ts';
import { toLocal } from '../support/supports.ts';
import { type Connector, frameCompliance, rowsTimes } from './hang.ts';
import type { NodeCompliance } from './plate.ts';

/** Connectors of order 6; null: a place that no tab can stand on. */
export class HungLayouts {
  private readonly frame: NodeCompliance;
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
  private readonly factor = new Float64Array(36);
  private readonly column = new Float64Array(6);

  constructor(
    connectors: readonly (Connector | null)[],
    compliance: NodeCompliance,
    grounded: Float64Array,
    origin: Vector,
  ) {
    this.connectors = connectors;
    this.frame = compliance;
    this.grounded = grounded;
    this.motions = connectors.map((c) => c && toLocal(c, origin));
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
    return this.invert(36 * layout.length) ? this.compliance : null;
  }

  /** By tab, of the layout last asked for: load about the origin to local force on the tab, 6x6; good until the next call. */
  recovers(layout: readonly number[]): readonly Float64Array[] {
    const { size, lower, force } = this;
    force.set(this.half);
    for (let i = size - 1; i >= 0; i--) {
      for (let j = 0; j < 6; j++) {
        let sum = force[6 * i + j]!;
        for (let k = i + 1; k < size; k++) sum -= lower[k * size + i]! * force[6 * k + j]!;
        force[6 * i + j] = sum / lower[i * size + i]!;
      }
    }
    for (let i = 0; i < layout.length; i++) {
      const begin = 36 * this.order.indexOf(layout[i]!);
      rowsTimes(force.subarray(begin, begin + 36), this.compliance, this.shares[i]!);
    }
    return this.shares;
  }

  /** Keeps what is filled for the first tabs that stay; of the others, those that stay come next: one tab after another is moved. */
  private begin(layout: readonly number[], afresh: boolean): void {
    const count = layout.length;
    if (count !== this.order.length) {
      const size = 6 * count;
      this.size = size;
      this.lower = new Float64Array(size * size);
      this.half = new Float64Array(6 * size);
      this.force = new Float64Array(6 * size);
      this.sums = new Float64Array(36 * (count + 1));
      this.sums.set(this.grounded);
      this.shares = layout.map(() => new Float64Array(36));
    }
    if (afresh || count !== this.order.length) {
      this.order = [...layout];
      this.ready = 0;
      return;
    }
    const { order } = this;
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
    const { size, lower, half, sums } = this;
    for (let j = 0; j <= i; j++) {
      const block = this.pair(place, this.order[j]!);
      for (let p = 0; p < 6; p++) {
        const row = (6 * i + p) * size + 6 * j;
        for (let q = 0; q < 6; q++) lower[row + q] = block[6 * p + q]!;
      }
    }
    for (let r = 6 * i; r < 6 * i + 6; r++) {
      if (!eliminateRow(lower, size, r)) return false;
      for (let c = 0; c < 6; c++) {
        let sum = motion[6 * (r - 6 * i) + c]!;
        for (let k = 0; k < r; k++) sum -= lower[r * size + k]! * half[6 * k + c]!;
        half[6 * r + c] = sum / lower[r * size + r]!;
      }
    }
    for (let p = 0; p < 6; p++) {
      for (let q = 0; q <= p; q++) {
        let sum = sums[36 * i + 6 * p + q]!;
        for (let r = 6 * i; r < 6 * i + 6; r++) sum += half[6 * r + p]! * half[6 * r + q]!;
        sums[36 * (i + 1) + 6 * p + q] = sum;
      }
    }
    return true;
  }

  /** Give of the frame between two tabs; of a tab with itself its own flexibility as well. */
  private pair(a: number, b: number): Float64Array {
    const key = a * this.connectors.length + b;
    let found = this.pairs.get(key);
    if (found === undefined) {
      const c = this.connectors[a]!;
      found = frameCompliance(this.frame, c, this.connectors[b]!);
      if (a === b) for (let k = 0; k < 36; k++) found[k]! += c.flexibility[k]!;
      this.pairs.set(key, found);
    }
    return found;
  }

  /** The compliance, from the stiffness whose lower triangle begins at `begin`; false: singular. */
  private invert(begin: number): boolean {
    const { factor, column, compliance: out } = this;
    for (let i = 0; i < 36; i++) factor[i] = this.sums[begin + i]!;
    for (let r = 0; r < 6; r++) if (!eliminateRow(factor, 6, r)) return false;
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
}

/** Whether it is among the first `count`. */
function isAmong(n: number, order: readonly number[], count: number): boolean {
  for (let i = 0; i < count; i++) if (order[i] === n) return true;
  return false;
}
