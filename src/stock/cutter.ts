/**
 * Sweeps a cutter through a field. Rows are cut by spans: each grid row meets the swept area of a stroke in one interval
 * (a line) or a few (an arc), found from its discs and sides; inside a span a flat cut only compares and stores. A stroke that goes on
 * where the one before ended, no lower, skips the disc already cut there.
 */
import type { Mm } from '../base/units.ts';
import { segmentLength, subSegment } from '../geometry/measure/segment.ts';
import { startAngle } from '../geometry/measure/sweep.ts';
import type { Arc, Line, Segment } from '../geometry/types.ts';
import type { Field } from './field.ts';
import { type HeightAt, lineRamp, shapedHeight, turnRamp } from './heights.ts';
import { sectorSpans } from './sector.ts';
import type { CutterShape } from './shape.ts';

/** What a stroke of a cutter needs to be swept. */
export type SweptShape = Pick<CutterShape, 'radius' | 'flat' | 'lift'>;

/** A ramp of a cutter that is not flat is cut in level pieces that differ by this; each is taken at its lower end. */
const SHAPED_STEP: Mm = 0.01;
/** Bound on the pieces of one ramp: 20 mm of height in steps as above. */
const MOST_PIECES = 2000;

export class Sweeper {
  readonly field: Field;
  /** Highest stock that the last stroke touched. */
  touched: Mm = -Infinity;
  /** Sum of what it took off the cells' heights. */
  private removed: Mm = 0;
  private endX = NaN;
  private endY = NaN;
  private endZ = NaN;
  private endR = NaN;

  constructor(field: Field) {
    this.field = field;
  }

  /** Forget where the last stroke ended: after anything that was not swept. */
  lift(): void {
    this.endX = NaN;
    this.removed = 0;
    this.touched = -Infinity;
  }

  /** Removed by the last stroke, mm3. */
  get volume(): number {
    return this.removed * this.field.cell * this.field.cell;
  }

  /** Sweeps a stroke from height za to zb along a path; returns the volume removed in mm3. */
  cut(path: Segment, za: Mm, zb: Mm, shape: SweptShape): number {
    this.removed = 0;
    this.touched = -Infinity;
    const length = segmentLength(path);
    if (length === 0) this.disc(path.a.x, path.a.y, Math.min(za, zb), shape);
    else if (za === zb) this.level(path, za, shape);
    else this.ramp(path, za, zb, shape);
    this.endX = path.b.x;
    this.endY = path.b.y;
    this.endZ = length === 0 ? Math.min(za, zb) : Math.max(za, zb);
    this.endR = shape.flat ? shape.radius : NaN;
    return this.volume;
  }

  private level(path: Segment, z: Mm, shape: SweptShape): void {
    if (!shape.flat) this.spans(path, shape.radius, shapedHeight(path, z, shape));
    else if (path.kind === 'line') this.flatLine(path, z, shape.radius);
    else this.spans(path, shape.radius, z);
  }

  private ramp(path: Segment, za: Mm, zb: Mm, shape: SweptShape): void {
    if (shape.flat) {
      this.spans(
        path,
        shape.radius,
        path.kind === 'line' ? lineRamp(path, za, zb, shape.radius) : turnRamp(path, za, zb, shape.radius),
      );
      return;
    }
    const count = Math.min(MOST_PIECES, Math.ceil(Math.abs(za - zb) / SHAPED_STEP));
    for (let i = 0; i < count; i++) {
      const piece = subSegment(path, i / count, (i + 1) / count);
      const z = Math.min(za + ((zb - za) * i) / count, za + ((zb - za) * (i + 1)) / count);
      this.spans(piece, shape.radius, shapedHeight(piece, z, shape));
    }
  }

  private disc(x: Mm, y: Mm, z: Mm, shape: SweptShape): void {
    const at = { x, y };
    const point: Line = { kind: 'line', a: at, b: at };
    this.discRows(x, y, shape.radius, shape.flat ? z : shapedHeight(point, z, shape));
  }

  private discRows(x: Mm, y: Mm, r: Mm, z: Mm | HeightAt): void {
    const f = this.field;
    const first = Math.max(0, Math.ceil((y - r - f.y0) / f.cell - 0.5));
    const last = Math.min(f.rows - 1, Math.floor((y + r - f.y0) / f.cell - 0.5));
    for (let row = first; row <= last; row++) {
      const dy = f.y0 + (row + 0.5) * f.cell - y;
      const half = Math.sqrt(Math.max(0, r * r - dy * dy));
      this.span(row, x - half, x + half, z);
    }
  }

  /** The hot path: a straight level stroke of a flat cutter. */
  private flatLine(path: Line, z: Mm, r: Mm): void {
    const f = this.field;
    const { cell, y0 } = f;
    const ax = path.a.x;
    const ay = path.a.y;
    const bx = path.b.x;
    const by = path.b.y;
    const dx = bx - ax;
    const dy = by - ay;
    const n = r / Math.sqrt(dx * dx + dy * dy);
    // Ends of the two long sides.
    const ox = -dy * n;
    const oy = dx * n;
    const skip = this.endX === ax && this.endY === ay && this.endZ <= z && this.endR === r;
    const first = Math.max(0, Math.ceil((Math.min(ay, by) - r - y0) / cell - 0.5));
    const last = Math.min(f.rows - 1, Math.floor((Math.max(ay, by) + r - y0) / cell - 0.5));
    const slope = dy === 0 ? 0 : dx / dy;
    for (let row = first; row <= last; row++) {
      const y = y0 + (row + 0.5) * cell;
      let lo = Infinity;
      let hi = -Infinity;
      let loA = Infinity;
      let hiA = -Infinity;
      const ya = y - ay;
      const yb = y - by;
      const qa = r * r - ya * ya;
      if (qa >= 0) {
        const half = Math.sqrt(qa);
        loA = ax - half;
        hiA = ax + half;
        lo = loA;
        hi = hiA;
      }
      const qb = r * r - yb * yb;
      if (qb >= 0) {
        const half = Math.sqrt(qb);
        if (bx - half < lo) lo = bx - half;
        if (bx + half > hi) hi = bx + half;
      }
      if (dy !== 0) {
        const s = (ya - oy) / dy;
        if (s >= 0 && s <= 1) {
          const x = ax + ox + (ya - oy) * slope;
          if (x < lo) lo = x;
          if (x > hi) hi = x;
        }
        const t = (ya + oy) / dy;
        if (t >= 0 && t <= 1) {
          const x = ax - ox + (ya + oy) * slope;
          if (x < lo) lo = x;
          if (x > hi) hi = x;
        }
      }
      if (hi < lo) continue;
      if (skip && loA <= hiA) {
        // Only the crescents beyond the disc that the last stroke left cut.
        if (lo < loA) this.flatSpan(row, lo, loA, z);
        if (hi > hiA) this.flatSpan(row, hiA, hi, z);
      } else this.flatSpan(row, lo, hi, z);
    }
  }

  private spans(path: Segment, r: Mm, z: Mm | HeightAt): void {
    if (path.kind === 'line') this.stadium(path, r, z);
    else this.turn(path, r, z);
  }

  private stadium(path: Line, r: Mm, z: Mm | HeightAt): void {
    const f = this.field;
    const { a, b } = path;
    const dx = b.x - a.x;
    const dy = b.y - a.y;
    const l = Math.sqrt(dx * dx + dy * dy);
    if (l === 0) {
      this.discRows(a.x, a.y, r, z);
      return;
    }
    const ox = (-dy * r) / l;
    const oy = (dx * r) / l;
    const first = Math.max(0, Math.ceil((Math.min(a.y, b.y) - r - f.y0) / f.cell - 0.5));
    const last = Math.min(f.rows - 1, Math.floor((Math.max(a.y, b.y) + r - f.y0) / f.cell - 0.5));
    for (let row = first; row <= last; row++) {
      const y = f.y0 + (row + 0.5) * f.cell;
      let lo = Infinity;
      let hi = -Infinity;
      for (const c of [a, b]) {
        const q = r * r - (y - c.y) ** 2;
        if (q < 0) continue;
        lo = Math.min(lo, c.x - Math.sqrt(q));
        hi = Math.max(hi, c.x + Math.sqrt(q));
      }
      for (const side of dy === 0 ? [] : [1, -1]) {
        const t = (y - a.y - side * oy) / dy;
        if (t < 0 || t > 1) continue;
        const x = a.x + side * ox + t * dx;
        lo = Math.min(lo, x);
        hi = Math.max(hi, x);
      }
      if (hi >= lo) this.span(row, lo, hi, z);
    }
  }

  /** An arc: the discs at its ends, and the ring between them by quarter turns. */
  private turn(path: Arc, r: Mm, z: Mm | HeightAt): void {
    const f = this.field;
    this.discRows(path.a.x, path.a.y, r, z);
    if (path.b !== path.a) this.discRows(path.b.x, path.b.y, r, z);
    const start = path.sweep > 0 ? startAngle(path) : startAngle(path) + path.sweep;
    const whole = Math.abs(path.sweep);
    const count = Math.ceil(whole / (Math.PI / 2));
    const { x, y } = path.centre;
    const inner = Math.max(0, path.radius - r);
    for (let i = 0; i < count; i++) {
      const from = start + (whole * i) / count;
      const to = start + (whole * (i + 1)) / count;
      sectorSpans(f, { x, y, inner, outer: path.radius + r, from, to }, (row, lo, hi) => this.span(row, lo, hi, z));
    }
  }

  private span(row: number, lo: Mm, hi: Mm, z: Mm | HeightAt): void {
    if (typeof z === 'number') {
      this.flatSpan(row, lo, hi, z);
      return;
    }
    const f = this.field;
    const from = Math.max(0, Math.ceil((lo - f.x0) / f.cell - 0.5));
    const to = Math.min(f.cols - 1, Math.floor((hi - f.x0) / f.cell - 0.5));
    const y = f.y0 + (row + 0.5) * f.cell;
    for (let col = from; col <= to; col++) {
      const k = row * f.cols + col;
      const h = f.heights[k]!;
      const cut = Math.max(f.bottom, z(f.x0 + (col + 0.5) * f.cell, y));
      if (h > cut) this.store(k, h, cut);
    }
  }

  private flatSpan(row: number, lo: Mm, hi: Mm, z: Mm): void {
    const f = this.field;
    const heights = f.heights;
    let from = Math.ceil((lo - f.x0) / f.cell - 0.5);
    let to = Math.floor((hi - f.x0) / f.cell - 0.5);
    if (from < 0) from = 0;
    if (to >= f.cols) to = f.cols - 1;
    const cut = z < f.bottom ? f.bottom : z;
    const base = row * f.cols;
    for (let k = base + from, end = base + to; k <= end; k++) {
      const h = heights[k]!;
      if (h > cut) this.store(k, h, cut);
    }
  }

  private store(k: number, h: Mm, cut: Mm): void {
    this.field.heights[k] = cut;
    this.removed += h - cut;
    if (h > this.touched) this.touched = h;
  }
}
