/**
 * The plate round the parts as a net of beams between its clamps: what is left of the stock when slots and windows are
 * cut, in any shape. Each cell of a grid that is not cut away is a node; neighbours are joined by rails as wide as the
 * metal between the lines half way to the next ones (grillage: Hambly, Bridge Deck Behaviour, ch. 3, from memory).
 *
 * Errs: in its own plane a net is softer in shear than a plate (safe side). In twist it is up to 6 % softer than a
 * plate or a wide strip (see `railTorsion`). One rail between two clamps is exact.
 */
import { cube, power } from '../../base/powers.ts';
import type { Mm } from '../../base/units.ts';
import type { Vector } from '../cutting/cut.ts';
import { skylineFactor, unitSolutions } from '../math/skyline.ts';
import { type ElasticModuli, torsionConstant } from '../support/beam.ts';
import { frameGroups, type Rail, type RailFrame } from './frame.ts';

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
  /** Depth cut out of a face at a place; without it, none anywhere. */
  readonly taken?: (x: Mm, y: Mm) => Mm;
  readonly metal: ElasticModuli;
  /** tonne/mm3. */
  readonly density: number;
}

/** The frame as nodes and rails. */
export function plateFrame(facts: PlateFacts): RailFrame {
  const long = width(facts.stock) >= depth(facts.stock);
  return new Grillage(facts, cellsOf(facts, 'X'), cellsOf(facts, 'Y'), long).frame();
}

/** Length of the net's cells beside the windows. */
export function cellLength({ stock, windows }: Pick<PlateFacts, 'stock' | 'windows'>): Mm {
  const longest = Math.max(width(stock), depth(stock));
  if (longest <= STEP * MOST_CELLS) return STEP;
  if (windows.length === 0) return longest / MOST_CELLS;
  const all = windows.reduce((a, b) => ({
    minX: Math.min(a.minX, b.minX),
    minY: Math.min(a.minY, b.minY),
    maxX: Math.max(a.maxX, b.maxX),
    maxY: Math.max(a.maxY, b.maxY),
  }));
  return Math.max(STEP, Math.max(width(all), depth(all)) / MOST_CELLS);
}

/** Cells no longer than this: two to three tabs' width. Halving it moves the compliances of the samples by under a tenth. */
const STEP: Mm = 5;
/** Bound on the work for large plates: cells along the longest side of the windows, or of a small plate. */
const MOST_CELLS = 22;
/** On a large plate cells grow by this away from the windows, where the metal is whole and bends evenly, up to `WIDEST`. */
const GROWTH = 1.5;
const WIDEST: Mm = 25;
/** Places at which the growth along a stretch is summed. */
const GRADES = 40;
/** Narrower slivers between lines are not worth a row of nodes of their own. */
const SLIVER: Mm = 0.3;

interface NetCell {
  readonly from: Mm;
  readonly to: Mm;
  readonly mid: Mm;
}

function cellsOf(facts: PlateFacts, axis: 'X' | 'Y'): NetCell[] {
  const lo = facts.stock[`min${axis}`];
  const hi = facts.stock[`max${axis}`];
  const marks = [...facts.held, ...facts.windows].flatMap((r) => [r[`min${axis}`], r[`max${axis}`]]);
  const breaks = [lo, ...marks.filter((m) => m > lo + SLIVER && m < hi - SLIVER), hi].sort((a, b) => a - b);
  const kept = breaks.filter((b, i) => i === 0 || i === breaks.length - 1 || b - breaks[i - 1]! > SLIVER);
  const step = cellLength(facts);
  const large = facts.windows.length > 0 && Math.max(width(facts.stock), depth(facts.stock)) > STEP * MOST_CELLS;
  const from = (v: Mm) => Math.min(...facts.windows.map((w) => Math.max(0, w[`min${axis}`] - v, v - w[`max${axis}`])));
  const cells: NetCell[] = [];
  for (let i = 0; i + 1 < kept.length; i++) {
    const a = kept[i]!;
    const b = kept[i + 1]!;
    const cuts = large ? graded(a, b, step, from) : even(a, b, step);
    for (let k = 0; k + 1 < cuts.length; k++) {
      cells.push({ from: cuts[k]!, to: cuts[k + 1]!, mid: (cuts[k]! + cuts[k + 1]!) / 2 });
    }
  }
  return cells;
}

function even(a: Mm, b: Mm, step: Mm): Mm[] {
  const count = Math.max(1, Math.round((b - a) / step));
  return Array.from({ length: count + 1 }, (_, k) => a + ((b - a) * k) / count);
}

/** From a to b in cells that are `step` beside a window and longer with the distance `from` the nearest one. */
function graded(a: Mm, b: Mm, step: Mm, from: (v: Mm) => Mm): Mm[] {
  // The cell that begins at distance d in a series of ratio r that begins with `step` is step + (r - 1) d long.
  const density = (v: Mm) => 1 / Math.min(Math.max(step, WIDEST), step + (GROWTH - 1) * from(v));
  const sums = [0];
  for (let k = 0; k < GRADES; k++)
    sums.push(sums[k]! + (density(a + ((b - a) * (k + 0.5)) / GRADES) * (b - a)) / GRADES);
  const total = sums[GRADES]!;
  const count = Math.max(1, Math.round(total));
  return Array.from({ length: count + 1 }, (_, n) => {
    if (n === count) return b;
    const wanted = (total * n) / count;
    const k = sums.findLastIndex((s) => s <= wanted);
    return a + ((b - a) * (k + (wanted - sums[k]!) / (sums[k + 1]! - sums[k]!))) / GRADES;
  });
}

class Grillage {
  private readonly facts: PlateFacts;
  private readonly xs: readonly NetCell[];
  private readonly ys: readonly NetCell[];
  private readonly long: boolean;
  private readonly nodes: Vector[] = [];
  private readonly rails: Rail[] = [];
  private readonly clamped: number[] = [];

  constructor(facts: PlateFacts, xs: readonly NetCell[], ys: readonly NetCell[], long: boolean) {
    this.facts = facts;
    this.xs = xs;
    this.ys = ys;
    this.long = long;
  }

  frame(): RailFrame {
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
  private join(a: number, b: number, border: Mm, across: NetCell, alongX: boolean): void {
    if (a === GONE || b === GONE || (a === HELD && b === HELD)) return;
    const from = a === HELD ? this.edgeNode(border, across.mid, alongX) : a;
    const to = b === HELD ? this.edgeNode(border, across.mid, alongX) : b;
    const p = this.nodes[from]!;
    const q = this.nodes[to]!;
    const sides = this.metalAcross((p[0] + q[0]) / 2, (p[1] + q[1]) / 2, across, alongX);
    const wide = sides[0].wide + sides[1].wide;
    const height = wide > SLIVER ? this.heightOf(p, q, sides, alongX) : 0;
    if (wide > SLIVER) this.rails.push({ from, to, width: wide, height, torsion: railTorsion(sides, height) });
  }

  /**
   * Of an even rail that bends upright as this one does where metal is cut out of its face: the mean of the cubes across, as strips
   * side by side (that they share one middle is left out: safe side), and of their inverses along. In its own plane it is softer than it need be.
   */
  private heightOf(p: Vector, q: Vector, sides: readonly [RailSide, RailSide], alongX: boolean): Mm {
    const { taken, thickness } = this.facts;
    if (taken === undefined) return thickness;
    const wide = sides[0].wide + sides[1].wide;
    let softness = 0;
    for (let k = 0; k < STATIONS; k++) {
      const t = (k + 0.5) / STATIONS;
      let cubes = 0;
      for (let n = 0; n < STATIONS; n++) {
        const d = (wide * (n + 0.5)) / STATIONS - sides[0].wide;
        const x = p[0] + t * (q[0] - p[0]) + (alongX ? 0 : d);
        const y = p[1] + t * (q[1] - p[1]) + (alongX ? d : 0);
        cubes += cube(Math.max(thickness - taken(x, y), LEAST_LEFT * thickness)) / STATIONS;
      }
      softness += 1 / cubes / STATIONS;
    }
    // Unchanged to the last digit where nothing is cut out.
    return Math.abs(softness * cube(thickness) - 1) < 1e-12 ? thickness : power(softness, -1 / 3);
  }

  private edgeNode(border: Mm, mid: Mm, alongX: boolean): number {
    const at: Vector = alongX ? [border, mid, this.facts.z] : [mid, border, this.facts.z];
    const node = this.nodes.push(at) - 1;
    this.clamped.push(node);
    return node;
  }

  /** Unbroken metal on both sides of a rail, within its cell. */
  private metalAcross(x: Mm, y: Mm, across: NetCell, alongX: boolean): readonly [RailSide, RailSide] {
    const stays = (d: Mm) => (alongX ? this.facts.stays(x, y + d) : this.facts.stays(x + d, y));
    const { stock } = this.facts;
    const [lo, hi] = alongX ? [stock.minY, stock.maxY] : [stock.minX, stock.maxX];
    const side = (sign: number, border: Mm): RailSide => {
      const reach = Math.abs(border - across.mid);
      let most = 0;
      for (let k = 1; k <= LOOKS; k++) {
        const d = (reach * k) / LOOKS;
        if (!stays(sign * d)) break;
        most = d;
      }
      const inside = border > lo + SLIVER && border < hi - SLIVER;
      return { wide: most, goesOn: most === reach && inside && stays(sign * (reach + SLIVER)) };
    };
    if (!stays(0)) return [NO_SIDE, NO_SIDE];
    return [side(-1, across.from), side(1, across.to)];
  }
}

/** Metal from a rail's middle to one side. */
interface RailSide {
  readonly wide: Mm;
  /** Beyond the cell there is metal too, and rails across to it. */
  readonly goesOn: boolean;
}

const NO_SIDE: RailSide = { wide: 0, goesOn: false };

/**
 * Torsion constant, mm4. A plate resists a twist k with D (1 - nu) k = G t^3/6 k along and the same across; a rail along and
 * one across over the same metal share that: t^3/6 a unit of width each (Hambly, ch. 3, from memory). Where no rail crosses,
 * beside a free edge, the rail along has it all: half of a rectangle's with both sides free.
 */
function railTorsion([a, b]: readonly [RailSide, RailSide], thick: Mm): number {
  if (!a.goesOn && !b.goesOn) return torsionConstant(a.wide + b.wide, thick);
  return [a, b].reduce((sum, { wide, goesOn }) => sum + (goesOn ? (wide * cube(thick)) / 6 : freeSide(wide, thick)), 0);
}

function freeSide(wide: Mm, thick: Mm): number {
  return wide > 0 ? torsionConstant(2 * wide, thick) / 2 : 0;
}

/** Places looked at along a rail and across it. */
const STATIONS = 8;
/** A floor thinner than this share of the plate is evaluated as thick: nothing stays stiff beside it, and the equations stay sound. */
const LEAST_LEFT = 0.02;

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
export interface NodeCompliance {
  readonly nodes: readonly number[];
  /** Block (a, b) begins at 36 (a nodes.length + b). */
  readonly blocks: Float64Array;
}

export type PlateCompliance =
  | { readonly kind: 'compliance'; readonly compliance: NodeCompliance }
  | { readonly kind: 'unclamped' };

/** Pieces that hang on nothing (offcuts) are held by a trace of stiffness: tabs must not be rooted in them (see `rootedOnly`). */
export function nodeCompliance(frame: RailFrame, nodes: readonly number[]): PlateCompliance {
  const count = nodes.length;
  const blocks = new Float64Array(36 * count * count);
  for (const { size, place, stiffness } of frameGroups(frame)) {
    const factor = skylineFactor(stiffness, size);
    if (factor.kind === 'singular') return { kind: 'unclamped' };
    const from = firstRow(nodes, place);
    nodes.forEach((b, bi) => {
      const loads = [0, 1, 2, 3, 4, 5].filter((j) => place[6 * b + j]! >= 0);
      for (let k = 0; k < loads.length; k += 3) {
        const three = loads.slice(k, k + 3);
        const at = (c: number) => place[6 * b + (three[c] ?? three[0]!)]!;
        const u = unitSolutions(factor, [at(0), at(1), at(2)], from);
        nodes.forEach((a, ai) => {
          const block = 36 * (ai * count + bi);
          for (let i = 0; i < 6; i++) {
            const row = place[6 * a + i]!;
            if (row >= 0) for (let c = 0; c < three.length; c++) blocks[block + 6 * i + three[c]!] = u[3 * row + c]!;
          }
        });
      }
    });
  }
  return { kind: 'compliance', compliance: { nodes, blocks } };
}

/** Of the free movements of the nodes; beyond all rows where there is none. */
function firstRow(nodes: readonly number[], place: Int32Array): number {
  return nodes.reduce((least, n) => {
    for (let i = 0; i < 6; i++) if (place[6 * n + i]! >= 0) least = Math.min(least, place[6 * n + i]!);
    return least;
  }, place.length);
}

/** Without the nodes that no chain of rails joins to a clamp; null when nothing is clamped. */
export function rootedOnly(frame: RailFrame): RailFrame | null {
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
