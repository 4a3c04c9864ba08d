/**
 * How much force a field of metal passes on: the largest flow through a net of square blocks, which is the section of its weakest cut
 * (Ford and Fulkerson, Maximal flow through a network, 1956). Found by filling all shortest ways at a time (Dinic, 1970).
 */
import type { Mm2 } from '../base/units.ts';

/** Less than this is rounding. */
const NOTHING: Mm2 = 1e-9;
/** A block's neighbours: left, right, below, above. */
const SIDES = 4;
const NONE = -1;

export class FlowNet {
  private readonly cols: number;
  /** Of each block, row by row: section that each of its four sides passes on, as far as its neighbour does too. */
  private readonly room: Float32Array;
  /** Blocks that are held: what comes there is borne. */
  private readonly ends: Uint8Array;
  /** What flows to the block on the right, and to the one above; less than nothing: the other way. */
  private readonly right: Float64Array;
  private readonly up: Float64Array;
  /** Blocks to go to this one from where the flow begins; 0: not come to. One more at every step. */
  private readonly steps: Int32Array;
  private readonly queue: Int32Array;

  constructor(cols: number, room: Float32Array, ends: Uint8Array) {
    this.cols = cols;
    this.room = room;
    this.ends = ends;
    this.right = new Float64Array(room.length);
    this.up = new Float64Array(room.length);
    this.steps = new Int32Array(room.length);
    this.queue = new Int32Array(room.length);
  }

  /** More from some blocks to the ends, as far as `wanted`; what flows already may be led another way but grows no less. Returns how much. */
  carry(from: readonly number[], wanted: Mm2): Mm2 {
    if (from.some((k) => this.ends[k] === 1 && this.room[k]! > 0)) return wanted;
    let left = wanted;
    while (left > NOTHING && this.measure(from)) {
      const tried = new Uint8Array(this.room.length);
      const before = left;
      for (const k of from) {
        for (let more = Infinity; more > NOTHING && left > NOTHING; left -= more) more = this.fill(k, left, tried);
      }
      if (before - left <= NOTHING) break;
    }
    return wanted - Math.max(0, left);
  }

  /** Counts steps outwards as far as the nearest end; false: none can be come to. */
  private measure(from: readonly number[]): boolean {
    const { steps, queue, ends } = this;
    steps.fill(0);
    let count = 0;
    const come = (k: number, step: number) => {
      steps[k] = step;
      queue[count++] = k;
    };
    for (const k of from) if (this.room[k]! > 0 && steps[k] === 0) come(k, 1);
    let nearest = Infinity;
    for (let i = 0; i < count; i++) {
      const k = queue[i]!;
      if (steps[k]! >= nearest) break;
      if (ends[k] === 1) nearest = steps[k]!;
      for (let side = 0; side < SIDES; side++) {
        const n = this.neighbour(k, side);
        if (n !== NONE && steps[n] === 0 && this.spare(k, n, side) > NOTHING) come(n, steps[k]! + 1);
      }
    }
    return nearest < Infinity;
  }

  /** One way from a block to an end, each step further out, filled as far as it has room; 0: there is none left. */
  private fill(start: number, wanted: Mm2, tried: Uint8Array): Mm2 {
    const way = [start];
    const sides: number[] = [];
    while (way.length > 0) {
      const k = way.at(-1)!;
      if (this.ends[k] === 1) return this.filled(way, sides, wanted);
      const side = tried[k]!;
      if (side === SIDES) {
        way.pop();
        sides.pop();
        const back = way.at(-1);
        if (back !== undefined) tried[back]!++;
        continue;
      }
      const n = this.neighbour(k, side);
      if (n !== NONE && this.steps[n] === this.steps[k]! + 1 && this.spare(k, n, side) > NOTHING) {
        way.push(n);
        sides.push(side);
      } else tried[k]!++;
    }
    return 0;
  }

  private filled(way: readonly number[], sides: readonly number[], wanted: Mm2): Mm2 {
    let least = wanted;
    for (let i = 0; i < sides.length; i++) least = Math.min(least, this.spare(way[i]!, way[i + 1]!, sides[i]!));
    for (let i = 0; i < sides.length; i++) this.add(way[i]!, way[i + 1]!, sides[i]!, least);
    return least;
  }

  private neighbour(k: number, side: number): number {
    const { cols } = this;
    if (side === 0) return k % cols > 0 ? k - 1 : NONE;
    if (side === 1) return k % cols < cols - 1 ? k + 1 : NONE;
    const n = side === 2 ? k - cols : k + cols;
    return n >= 0 && n < this.room.length ? n : NONE;
  }

  private spare(a: number, b: number, side: number): Mm2 {
    const most = Math.min(this.room[a]!, this.room[b]!);
    if (side === 0) return most + this.right[b]!;
    if (side === 1) return most - this.right[a]!;
    return side === 2 ? most + this.up[b]! : most - this.up[a]!;
  }

  private add(a: number, b: number, side: number, flow: Mm2): void {
    if (side === 0) this.right[b]! -= flow;
    else if (side === 1) this.right[a]! += flow;
    else if (side === 2) this.up[b]! -= flow;
    else this.up[a]! += flow;
  }
}
