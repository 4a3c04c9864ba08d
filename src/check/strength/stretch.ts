/** Consecutive strokes of one cutter at one feed, taken together until the cells' rounding evens out. */
import type { Mm } from '../../base/units.ts';
import type { Removal } from '../field/removal.ts';
import { type Packing, type Shelf, Spool } from '../strokes/spool.ts';
import { type Stroke, strokeLength } from '../strokes/stroke.ts';
import type { Strokes } from '../strokes/strokes.ts';

export interface LoadStretch {
  /** The first that cuts. */
  readonly stroke: Stroke;
  /** mm3 removed. */
  readonly volume: number;
  readonly length: Mm;
  /** Greatest depth below the stock touched. */
  readonly depth: Mm;
}

/** Shortest stretch, in cells. */
const CELLS = 10;

/** Those that remove stock, in order. */
export function stretchesOf(strokes: Strokes, removal: Removal, shelf: Shelf): Iterable<LoadStretch> {
  const found = new Spool(packing(strokes), shelf);
  const join = new Joining(removal.field.cell, (w) => found.push(w));
  for (const s of strokes) {
    const { volume, touched } = removal.of(s);
    join.add(s, volume, touched - s.low);
  }
  join.close();
  return found;
}

function packing(strokes: Strokes): Packing<LoadStretch> {
  return {
    width: 4,
    pack: (w, _, into, i) => {
      into[i] = w.stroke.index;
      into[i + 1] = w.volume;
      into[i + 2] = w.length;
      into[i + 3] = w.depth;
    },
    unpack: (_, n, i) => ({ stroke: strokes.at(n[i]!)!, volume: n[i + 1]!, length: n[i + 2]!, depth: n[i + 3]! }),
  };
}

type Open = { -readonly [K in keyof LoadStretch]: LoadStretch[K] };

class Joining {
  private readonly cell: Mm;
  private readonly emit: (w: LoadStretch) => void;
  private open: Open | undefined;
  /** What `open` goes on from, at the same feed; not given out yet. */
  private before: Open | undefined;

  constructor(cell: Mm, emit: (w: LoadStretch) => void) {
    this.cell = cell;
    this.emit = emit;
  }

  add(s: Stroke, volume: number, depth: Mm): void {
    if (s.rapid) {
      this.close();
      return;
    }
    const so = (this.open ?? this.before)?.stroke;
    if (so !== undefined && (so.tool !== s.tool || so.feed !== s.feed || so.speed !== s.speed)) this.close();
    this.open ??= { stroke: s, volume: 0, length: 0, depth: 0 };
    const { open } = this;
    open.volume += volume;
    open.length += strokeLength(s);
    if (volume > 0) {
      if (open.depth === 0) open.stroke = s;
      open.depth = Math.max(open.depth, depth);
    }
    if (open.length >= CELLS * this.cell) this.end();
  }

  close(): void {
    this.end();
    this.give(this.before);
    this.before = undefined;
  }

  private end(): void {
    const { open, before } = this;
    this.open = undefined;
    if (open === undefined) return;
    // A few micrometres at the end may be given whole cells: they are judged with what they belong to.
    if (before !== undefined && before.volume > 0 && open.volume > 0 && open.length < this.cell) {
      before.volume += open.volume;
      before.length += open.length;
      before.depth = Math.max(before.depth, open.depth);
      return;
    }
    this.give(before);
    this.before = open;
  }

  private give(w: Open | undefined): void {
    if (w !== undefined && w.volume > 0) this.emit(w);
  }
}
