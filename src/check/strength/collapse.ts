/**
 * How hard a part may be pushed before what ties it down gives way: the upper-bound theorem of plasticity. For every way in which a stiff part
 * could start to move, the push does some work and the ties take up some; the least ratio of the two is the margin. Ways looked at: tipping
 * about every tangent of the part's outline on its lower face (what lies beneath only pushes up), lifting straight up, and sliding or
 * turning in its plane. The theorem: Prager, An Introduction to Plasticity, 1959; no way left out can raise the answer, only lower it.
 */
import { cosine, sine } from '../../base/angles.ts';
import type { Mm, Newton, NewtonMm } from '../../base/units.ts';
import type { Point } from '../../geometry/types.ts';

export interface Tie {
  readonly at: Point;
  /** Work taken up when the part there rises by `rise`, its slope outwards `slope` and along the edge `twist`, for small movements. */
  readonly tip: (rise: number, slope: number, twist: number) => number;
  /** Unit vector outwards: axes of `slope` and `twist`. */
  readonly out: Point;
  /** Force at which it yields in the plane, whatever the direction. */
  readonly side: Newton;
  /** Moment about Z at which it yields. */
  readonly turn: NewtonMm;
}

export interface CutterPush {
  readonly at: Point;
  /** In any direction along the plane. */
  readonly sideways: Newton;
  readonly up: Newton;
  /** Height of the push above the part's lower face. */
  readonly z: Mm;
}

export interface CollapseModes {
  readonly hull: readonly Point[];
  readonly ways: readonly Tipping[];
  readonly lift: Newton;
  readonly slide: Newton;
  readonly poles: readonly { readonly at: Point; readonly work: number }[];
}

interface Tipping {
  readonly d: Point;
  readonly hinge: Mm;
  readonly work: number;
}

/** Directions of tipping looked at: 7.5 degrees apart, which may miss 0.2 % (1 - cos of half of it) of a lever. */
const DIRECTIONS = 48;
/** Poles of turning: a grid of so many each way over the part and half its size around, and the ties themselves. */
const POLES = 9;

/** What the ties take up, one way of moving each; the same for every push while the ties stay as they are. */
export function groundOf(hull: readonly Point[], ties: readonly Tie[]): CollapseModes {
  const ways = Array.from({ length: DIRECTIONS }, (_, i) => tipping((2 * Math.PI * i) / DIRECTIONS, hull, ties));
  const lift = ties.reduce((sum, t) => sum + t.tip(1, 0, 0), 0);
  const slide = ties.reduce((sum, t) => sum + t.side, 0);
  const poles = [...grid(hull), ...ties.map((t) => t.at)].map((at) => ({ at, work: turning(at, ties) }));
  return { hull, ways, lift, slide, poles };
}

/** Times the push that the ties bear. */
export function carried(g: CollapseModes, p: CutterPush): number {
  let least = Math.min(over(g.lift, p.up), over(g.slide, p.sideways));
  for (const w of g.ways) {
    const rise = Math.max(0, p.at.x * w.d.x + p.at.y * w.d.y - w.hinge);
    least = Math.min(least, over(w.work, p.up * rise + p.sideways * Math.max(0, p.z)));
  }
  for (const c of g.poles) least = Math.min(least, over(c.work, p.sideways * distance(p.at, c.at)));
  return least;
}

function over(carries: number, asked: number): number {
  return asked > 0 ? carries / asked : Number.POSITIVE_INFINITY;
}

function tipping(angle: number, hull: readonly Point[], ties: readonly Tie[]): Tipping {
  const d = { x: cosine(angle), y: sine(angle) };
  const hinge = Math.min(...hull.map((p) => p.x * d.x + p.y * d.y));
  const work = ties.reduce((sum, t) => {
    const rise = t.at.x * d.x + t.at.y * d.y - hinge;
    return sum + t.tip(rise, d.x * t.out.x + d.y * t.out.y, d.y * t.out.x - d.x * t.out.y);
  }, 0);
  return { d, hinge, work };
}

function turning(pole: Point, ties: readonly Tie[]): number {
  return ties.reduce((sum, t) => sum + Math.max(t.side * distance(t.at, pole), t.turn), 0);
}

function grid(hull: readonly Point[]): Point[] {
  const xs = hull.map((p) => p.x);
  const ys = hull.map((p) => p.y);
  const [x0, x1, y0, y1] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const points: Point[] = [];
  for (let i = 0; i < POLES; i++) {
    for (let j = 0; j < POLES; j++) {
      const u = (2 * i) / (POLES - 1) - 0.5;
      const v = (2 * j) / (POLES - 1) - 0.5;
      points.push({ x: x0 + (x1 - x0) * u, y: y0 + (y1 - y0) * v });
    }
  }
  return points;
}

function distance(a: Point, b: Point): Mm {
  return Math.hypot(a.x - b.x, a.y - b.y);
}
