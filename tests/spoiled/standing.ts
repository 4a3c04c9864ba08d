/**
 * Rapids through stock that stands, for the judge of slips: the stock is a coarse grid that every cutter's disc is stamped on. A cut is
 * stamped once a rapid comes by that could meet what it takes away.
 */
import type { Cutter, Job } from '../../src/part/part.ts';
import { lengthOf, type Move, type P3, pointOf } from './course.ts';
import { type Box, boxOf } from './distance.ts';

const CELL = 0.25;

/** Words for the first rapid that meets standing stock by more than half a millimetre of depth, a cell in from the cutter's rim. */
export function rapidInStock(job: Job, moves: readonly Move[]): string | null {
  const stock = new Stock(job);
  let waiting: Disc[] = [];
  for (const m of moves) {
    const disc = discOf(job, m);
    if (disc === null) continue;
    if (m.kind !== 'rapid') {
      waiting.push(disc);
      continue;
    }
    const still: Disc[] = [];
    for (const w of waiting) {
      if (meet(w.box, disc.box)) stock.cut(w);
      else still.push(w);
    }
    waiting = still;
    const depth = stock.deepest(disc);
    if (depth !== null) return `a rapid at line ${m.line + 1} is ${depth.toFixed(2)} in the stock`;
  }
  return null;
}

/** A cutter's disc along a move that comes below the top of the stock. */
interface Disc {
  readonly move: Move;
  readonly radius: number;
  /** Its end rises outwards, by at least as much as it goes out. */
  readonly cone: boolean;
  readonly box: Box;
}

const FLAT: readonly Cutter['kind'][] = ['end mill', 'slot drill', 'reamer', 'counterbore'];

function discOf(job: Job, move: Move): Disc | null {
  const { from, to, centre } = move;
  const cutter = job.cutters.find((c) => c.number === move.tool);
  if (cutter === undefined || !Number.isFinite(from.x + from.y + from.z + to.x + to.y + to.z)) return null;
  if (Math.min(from.z, to.z) >= job.stock.max[2]) return null;
  const radius = cutter.diameter / 2 + (move.kind === 'rapid' ? -1.5 * CELL : 0.5 * CELL);
  const round = move.kind === 'arc' ? Math.hypot(from.x - centre.x, from.y - centre.y) : 0;
  const [x, y] = [centre.x, centre.y];
  const ends =
    move.kind === 'arc'
      ? [
          { x: x - round, y: y - round },
          { x: x + round, y: y + round },
        ]
      : [from, to];
  return { move, radius, cone: !FLAT.includes(cutter.kind), box: boxOf(ends, Math.abs(radius) + 2 * CELL) };
}

function meet(a: Box, b: Box): boolean {
  return a.x0 <= b.x1 && b.x0 <= a.x1 && a.y0 <= b.y1 && b.y0 <= a.y1;
}

class Stock {
  private readonly min: readonly [number, number, number];
  private readonly max: readonly [number, number, number];
  private readonly cols: number;
  private readonly rows: number;
  private readonly height: Float32Array;

  constructor(job: Job) {
    const { min, max } = job.stock;
    [this.min, this.max] = [min, max];
    this.cols = Math.ceil((max[0] - min[0]) / CELL);
    this.rows = Math.ceil((max[1] - min[1]) / CELL);
    this.height = new Float32Array(this.cols * this.rows).fill(max[2]);
  }

  cut(disc: Disc): void {
    const { height } = this;
    for (const under of this.along(disc)) {
      for (let j = under.y0; j <= under.y1; j++) {
        for (let k = under.x0; k <= under.x1; k++) {
          const z = this.endAt(disc, under.p, j, k);
          const n = j * this.cols + k;
          if (z < height[n]!) height[n] = z;
        }
      }
    }
  }

  /** Of the first cell that it meets by more than half a millimetre: by how much; null: of none. */
  deepest(disc: Disc): number | null {
    for (const under of this.along(disc)) {
      for (let j = under.y0; j <= under.y1; j++) {
        for (let k = under.x0; k <= under.x1; k++) {
          const depth = this.height[j * this.cols + k]! - this.endAt(disc, under.p, j, k);
          if (depth > 0.5) return depth;
        }
      }
    }
    return null;
  }

  /** Height of the disc's end over a cell's middle; infinite beside it. */
  private endAt({ radius, cone }: Disc, p: P3, j: number, k: number): number {
    const dx = this.min[0] + (k + 0.5) * CELL - p.x;
    const dy = this.min[1] + (j + 0.5) * CELL - p.y;
    const d2 = dx * dx + dy * dy;
    if (d2 > radius * radius) return Infinity;
    return cone ? p.z + Math.sqrt(d2) : p.z;
  }

  /** The cells about the disc at points along its move. */
  private *along({ move, radius: r }: Disc): Generator<Box & { readonly p: P3 }> {
    const { min, max } = this;
    const count = Math.max(1, Math.ceil(lengthOf(move) / CELL));
    for (let i = 0; i <= count; i++) {
      const p = pointOf(move, i / count);
      const off = Math.max(min[0] - p.x, p.x - max[0], min[1] - p.y, p.y - max[1]) - Math.abs(r) - CELL;
      // Off the stock, by so many points of its way; they are no further apart than a cell.
      if (off > 0) i += Math.floor(off / CELL);
      if (off > 0 || p.z >= max[2]) continue;
      yield {
        p,
        x0: Math.max(0, Math.floor((p.x - r - min[0]) / CELL)),
        x1: Math.min(this.cols - 1, Math.floor((p.x + r - min[0]) / CELL)),
        y0: Math.max(0, Math.floor((p.y - r - min[1]) / CELL)),
        y1: Math.min(this.rows - 1, Math.floor((p.y + r - min[1]) / CELL)),
      };
    }
  }
}
