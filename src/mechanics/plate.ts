/**
 * The plate round the parts as a net of beams between its clamps: what is left of the stock when slots and windows are
 * cut, in any shape. Each cell of a grid that is not cut away is a node; neighbours are joined by rails as wide as the
 * metal between the lines half way to the next ones (grillage: Hambly, Bridge Deck Behaviour, ch. 3, from memory).
 *
 * Errs: in its own plane a net is softer in shear than a plate (safe side); in twist the net of a wide plate may be up to
 * twice as stiff as the plate (not safe; twist matters little beside bending there), a single rail is right. One rail between two clamps is exact.
 */
import type { Mm } from '../base/units.ts';
import type { Elastic } from './beam.ts';
import type { Vector } from './cut.ts';
import { type Frame, frameGroups, type Rail } from './frame.ts';
import { skylineFactor, unitSolution } from './skyline.ts';

export interface Rect {
  readonly minX: Mm;
  readonly minY: Mm;
  readonly maxX: Mm;
  readonly maxY: Mm;
}

export interface PlateFacts {
  readonly stock: Rect;
  readonly thickness: Mm;
  /** Z of the plate's middle. */
  readonly z: Mm;
  /** Where the stock is held down and cannot move. */
  readonly held: readonly Rect[];
  /** Boxes of the slots: lines of the net run beside them. */
  readonly windows: readonly Rect[];
  /** Whether the metal at a place stays. */
  readonly stays: (x: Mm, y: Mm) => boolean;
  readonly metal: Elastic;
  /** tonne/mm3. */
  readonly density: number;
}

/** The frame as nodes and rails; `cell` is the size of the net's cells. */
export function plateFrame(facts: PlateFacts): Frame {
  const step = Math.max(STEP, Math.max(width(facts.stock), depth(facts.stock)) / MOST_CELLS);
  const long = width(facts.stock) >= depth(facts.stock);
  const xs = cellsOf(facts, 'X', step);
  const ys = cellsOf(facts, 'Y', step);
  return new Net(facts, xs, ys, long).frame();
}

/** Cells no longer than this: two to three tabs' width. Halving it moves the compliances of the samples by under a tenth. */
const STEP: Mm = 5;
/** Bound on the work for large plates. */
const MOST_CELLS = 22;
/** Narrower slivers between lines are not worth a row of nodes of their own. */
const SLIVER: Mm = 0.3;

interface Cell {
  readonly from: Mm;
  readonly to: Mm;
  readonly mid: Mm;
}

function cellsOf(facts: PlateFacts, axis: 'X' | 'Y', step: Mm): Cell[] {
  const lo = facts.stock[`min${axis}`];
  const hi = facts.stock[`max${axis}`];
  const marks = [...facts.held, ...facts.windows].flatMap((r) => [r[`min${axis}`], r[`max${axis}`]]);
  const breaks = [lo, ...marks.filter((m) => m > lo + SLIVER && m < hi - SLIVER), hi].sort((a, b) => a - b);
  const kept = breaks.filter((b, i) => i === 0 || i === breaks.length - 1 || b - breaks[i - 1]! > SLIVER);
  const cells: Cell[] = [];
  for (let i = 0; i + 1 < kept.length; i++) {
    const a = kept[i]!;
    const b = kept[i + 1]!;
    const count = Math.max(1, Math.round((b - a) / step));
    for (let k = 0; k < count; k++) {
      const from = a + ((b - a) * k) / count;
      const to = a + ((b - a) * (k + 1)) / count;
      cells.push({ from, to, mid: (from + to) / 2 });
    }
  }
  return cells;
}

class Net {
  private readonly facts: PlateFacts;
  private readonly xs: readonly Cell[];
  private readonly ys: readonly Cell[];
  private readonly long: boolean;
  private readonly nodes: Vector[] = [];
  private readonly rails: Rail[] = [];
  private readonly clamped: number[] = [];

  constructor(facts: PlateFacts, xs: readonly Cell[], ys: readonly Cell[], long: boolean) {
    this.facts = facts;
    this.xs = xs;
    this.ys = ys;
    this.long = long;
  }

  frame(): Frame {
    const { facts } = this;
    const table = this.numberNodes();
    this.xs.forEach((cx, i) => {
      this.ys.forEach((cy, j) => {
        if (i + 1 < this.xs.length) this.join(table[i]![j]!, table[i + 1]![j]!, cx.to, cy, true);
        if (j + 1 < this.ys.length) this.join(table[i]![j]!, table[i]![j + 1]!, cy.to, cx, false);
      });
    });
    return { nodes: this.nodes, rails: this.rails, clamped: this.clamped, metal: facts.metal, density: facts.density };
  }

  /** Node of every cell; HELD under a clamp, GONE where cut. Numbered across the short side first: a low skyline. */
  private numberNodes(): number[][] {
    const table = this.xs.map(() => this.ys.map(() => GONE));
    const visit = (i: number, j: number) => {
      table[i]![j] = this.nodeOf(this.xs[i]!.mid, this.ys[j]!.mid);
    };
    if (this.long) this.xs.forEach((_, i) => this.ys.forEach((_y, j) => visit(i, j)));
    else this.ys.forEach((_, j) => this.xs.forEach((_x, i) => visit(i, j)));
    return table;
  }

  private nodeOf(x: Mm, y: Mm): number {
    if (isHeld(this.facts.held, x, y)) return HELD;
    if (!this.facts.stays(x, y)) return GONE;
    return this.nodes.push([x, y, this.facts.z]) - 1;
  }

  /** A rail between neighbours; to a clamp it ends at the clamp's edge (`border`). */
  private join(a: number, b: number, border: Mm, across: Cell, alongX: boolean): void {
    if (a === GONE || b === GONE || (a === HELD && b === HELD)) return;
    const from = a === HELD ? this.edgeNode(border, across.mid, alongX) : a;
    const to = b === HELD ? this.edgeNode(border, across.mid, alongX) : b;
    const p = this.nodes[from]!;
    const q = this.nodes[to]!;
    const wide = this.metalAcross((p[0] + q[0]) / 2, (p[1] + q[1]) / 2, across, alongX);
    if (wide > SLIVER) this.rails.push({ from, to, width: wide, height: this.facts.thickness });
  }

  private edgeNode(border: Mm, mid: Mm, alongX: boolean): number {
    const at: Vector = alongX ? [border, mid, this.facts.z] : [mid, border, this.facts.z];
    const node = this.nodes.push(at) - 1;
    this.clamped.push(node);
    return node;
  }

  /** Width of unbroken metal across a rail, within its cell. */
  private metalAcross(x: Mm, y: Mm, across: Cell, alongX: boolean): Mm {
    const half = (sign: number, reach: Mm) => {
      let most = 0;
      for (let k = 1; k <= LOOKS; k++) {
        const d = (reach * k) / LOOKS;
        const stays = alongX ? this.facts.stays(x, y + sign * d) : this.facts.stays(x + sign * d, y);
        if (!stays) break;
        most = d;
      }
      return most;
    };
    if (!this.facts.stays(x, y)) return 0;
    return half(-1, across.mid - across.from) + half(1, across.to - across.mid);
  }
}

const GONE = -1;
const HELD = -2;
const LOOKS = 4;

function isHeld(held: readonly Rect[], x: Mm, y: Mm): boolean {
  return held.some((r) => x >= r.minX && x <= r.maxX && y >= r.minY && y <= r.maxY);
}

function width(r: Rect): Mm {
  return r.maxX - r.minX;
}

function depth(r: Rect): Mm {
  return r.maxY - r.minY;
}

/** Movement of some nodes under loads on some nodes: 6x6 blocks, row by row of blocks. */
export interface NodeGive {
  readonly nodes: readonly number[];
  /** Block (a, b) begins at 36 (a nodes.length + b). */
  readonly blocks: Float64Array;
}

export type PlateGive = { readonly kind: 'give'; readonly give: NodeGive } | { readonly kind: 'unclamped' };

/** Pieces that hang on nothing (offcuts) are held by a trace of stiffness: tabs must not be rooted in them (see `isRooted`). */
export function nodeGive(frame: Frame, nodes: readonly number[]): PlateGive {
  const count = nodes.length;
  const blocks = new Float64Array(36 * count * count);
  for (const { size, place, stiffness } of frameGroups(frame)) {
    const factor = skylineFactor(stiffness, size);
    if (factor.kind === 'singular') return { kind: 'unclamped' };
    nodes.forEach((b, bi) => {
      for (let j = 0; j < 6; j++) {
        const at = place[6 * b + j]!;
        if (at < 0) continue;
        const u = unitSolution(factor, at);
        nodes.forEach((a, ai) => {
          const block = 36 * (ai * count + bi);
          for (let i = 0; i < 6; i++) {
            const row = place[6 * a + i]!;
            if (row >= 0) blocks[block + 6 * i + j] = u[row]!;
          }
        });
      }
    });
  }
  return { kind: 'give', give: { nodes, blocks } };
}

/** Without the nodes that no chain of rails joins to a clamp; null when nothing is clamped. */
export function rootedOnly(frame: Frame): Frame | null {
  const reached = new Set(frame.clamped);
  const neighbours = frame.nodes.map((): number[] => []);
  for (const r of frame.rails) {
    neighbours[r.from]!.push(r.to);
    neighbours[r.to]!.push(r.from);
  }
  const open = [...reached];
  for (let n = open.pop(); n !== undefined; n = open.pop()) {
    for (const m of neighbours[n]!) {
      if (!reached.has(m)) {
        reached.add(m);
        open.push(m);
      }
    }
  }
  if (reached.size === 0) return null;
  const number = new Map<number, number>();
  const nodes = frame.nodes.filter((_, i) => {
    if (!reached.has(i)) return false;
    number.set(i, number.size);
    return true;
  });
  const rails = frame.rails
    .filter((r) => reached.has(r.from))
    .map((r) => ({ ...r, from: number.get(r.from)!, to: number.get(r.to)! }));
  return { ...frame, nodes, rails, clamped: frame.clamped.map((c) => number.get(c)!) };
}
