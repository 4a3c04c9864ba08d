/** Where a cutter has passed at one level, and how much of its rim meets metal at a place: the angle of engagement, exact. */
import { arccosine, arcsine, arctangent2, cosine, sine } from '../../base/angles.ts';
import { type Mm, type Rad, toRad } from '../../base/units.ts';
import { pointAt, segmentLength, subSegment } from '../../geometry/measure/segment.ts';
import type { Point, Segment } from '../../geometry/types.ts';
import { ClearingStroke } from './stroke.ts';

/** The rim is looked at this far outside: metal thinner than this is no chip, and rounding to the post's grid stays below it. */
const RIM_OUTSIDE: Mm = 5e-4;
/** Angles smaller than this are rounding. */
const NOTHING: Rad = toRad(0.01);
const TURN = 2 * Math.PI;

/** Stock is the whole plane; a point is open once a disc of the cutter's radius has passed over it. */
export class SweptArea {
  readonly radius: Mm;
  private readonly cells = new Map<number, ClearingStroke[]>();
  /** What had been cut before. */
  private base: SweptArea | null = null;

  constructor(radius: Mm) {
    this.radius = radius;
  }

  add(path: Segment): void {
    const stroke = new ClearingStroke(path);
    const { box } = stroke;
    const reach = 2 * this.radius + RIM_OUTSIDE;
    const [i0, i1] = [this.cell(box.minX - reach), this.cell(box.maxX + reach)];
    const [j0, j1] = [this.cell(box.minY - reach), this.cell(box.maxY + reach)];
    for (let i = i0; i <= i1; i++) {
      for (let j = j0; j <= j1; j++) {
        const list = this.cells.get(keyOf(i, j));
        if (list) list.push(stroke);
        else this.cells.set(keyOf(i, j), [stroke]);
      }
    }
  }

  /** A copy to try things on; what is added to it is not added here. */
  branch(): SweptArea {
    const copy = new SweptArea(this.radius);
    copy.base = this;
    return copy;
  }

  /** Greatest engagement on the way along `path`, which is not yet added, `spacing` between the places looked at. */
  greatest(path: Segment, spacing: Mm): Rad {
    return Math.max(0, ...this.along(path, spacing).map((e) => e.angle));
  }

  along(path: Segment, spacing: Mm): { readonly t: number; readonly angle: Rad }[] {
    const length = segmentLength(path);
    const count = Math.max(length > spacing / 10 ? 4 : 2, Math.ceil(length / spacing));
    return Array.from({ length: count }, (_, k) => {
      // The ends too: engagement jumps there.
      const t = k / (count - 1);
      return { t, angle: this.engaged(pointAt(path, t), t > 0 ? subSegment(path, 0, t) : null) };
    });
  }

  /** Radians of the rim in metal with the cutter at `at`, having come there along `own`. */
  engaged(at: Point, own: Segment | null): Rad {
    const rim = new Rim(at, this.radius);
    if (own !== null) rim.cover(new ClearingStroke(own));
    this.coverNear(rim, at);
    return rim.left;
  }

  private coverNear(rim: Rim, at: Point): void {
    const near = this.cells.get(keyOf(this.cell(at.x), this.cell(at.y))) ?? [];
    // What was cut last lies nearest, as a rule.
    for (let k = near.length - 1; k >= 0 && !rim.isOpen; k--) rim.cover(near[k]!);
    if (!rim.isOpen) this.base?.coverNear(rim, at);
  }

  private cell(v: Mm): number {
    return Math.floor(v / (4 * this.radius));
  }
}

/** Cells on either side of 0 have keys of their own as far as any machine travels. */
function keyOf(i: number, j: number): number {
  return (i + 32768) * 65536 + j + 32768;
}

/** The rim of the cutter at one place, less the stretches that earlier strokes have opened. */
class Rim {
  private readonly at: Point;
  private readonly radius: Mm;
  private readonly rim: Mm;
  /** Stretches still in metal, within 0 to a turn. */
  private rest: [Rad, Rad][] = [[0, TURN]];

  constructor(at: Point, radius: Mm) {
    this.at = at;
    this.radius = radius;
    this.rim = radius + RIM_OUTSIDE;
  }

  get isOpen(): boolean {
    return this.rest.length === 0;
  }

  get left(): Rad {
    return this.rest.reduce((sum, [a, b]) => sum + b - a, 0);
  }

  cover(path: ClearingStroke): void {
    if (!this.rest.some((stretch) => this.canMeet(path, stretch))) return;
    const ends = this.bounds(path.path);
    if (ends.length === 0) {
      // No part of the rim meets the stroke's edge: all of it is inside, or none.
      if (this.isCovered(path, 0)) this.rest = [];
      return;
    }
    ends.sort((a, b) => a - b);
    ends.forEach((a, i) => {
      const b = i + 1 < ends.length ? ends[i + 1]! : ends[0]! + TURN;
      if (b - a < 1e-12 || !this.isCovered(path, (a + b) / 2)) return;
      this.take(a, Math.min(b, TURN));
      if (b > TURN) this.take(0, b - TURN);
    });
  }

  /** Whether a stroke may open any of a stretch: the stretch lies in a disc about its middle. */
  private canMeet(path: ClearingStroke, [a, b]: readonly [Rad, Rad]): boolean {
    if (b - a >= Math.PI) return path.passesWithin(this.at.x, this.at.y, this.rim + this.radius);
    const half = (b - a) / 2;
    const out = this.rim * cosine(half);
    const reach = this.radius + this.rim * sine(half);
    return path.passesWithin(this.at.x + out * cosine(a + half), this.at.y + out * sine(a + half), reach);
  }

  private take(a: Rad, b: Rad): void {
    const out: [Rad, Rad][] = [];
    for (const [p, q] of this.rest) {
      if (Math.min(a, q) - p > NOTHING) out.push([p, Math.min(a, q)]);
      if (q - Math.max(b, p) > NOTHING) out.push([Math.max(b, p), q]);
    }
    this.rest = out;
  }

  private isCovered(path: ClearingStroke, angle: Rad): boolean {
    return path.passesWithin(this.at.x + this.rim * cosine(angle), this.at.y + this.rim * sine(angle), this.radius);
  }

  /** Angles at which the rim may cross the edge of what a stroke opens: its parallels and the discs about its ends. */
  private bounds(path: Segment): Rad[] {
    const out: Rad[] = [];
    this.circle(path.a, this.radius, out);
    this.circle(path.b, this.radius, out);
    if (path.kind === 'arc') {
      this.circle(path.centre, path.radius + this.radius, out);
      this.circle(path.centre, Math.abs(path.radius - this.radius), out);
    } else {
      this.parallels(path.a, path.b, out);
    }
    return out;
  }

  private circle(centre: Point, radius: Mm, out: Rad[]): void {
    const dx = centre.x - this.at.x;
    const dy = centre.y - this.at.y;
    const d = Math.hypot(dx, dy);
    if (d < 1e-12) return;
    const cos = (this.rim * this.rim + d * d - radius * radius) / (2 * this.rim * d);
    if (Math.abs(cos) >= 1) return;
    const towards = arctangent2(dy, dx);
    const half = arccosine(cos);
    out.push(turned(towards - half), turned(towards + half));
  }

  private parallels(a: Point, b: Point, out: Rad[]): void {
    const length = Math.hypot(b.x - a.x, b.y - a.y);
    if (length < 1e-12) return;
    const direction = arctangent2(b.y - a.y, b.x - a.x);
    const aside = ((b.x - a.x) * (this.at.y - a.y) - (b.y - a.y) * (this.at.x - a.x)) / length;
    for (const side of [this.radius, -this.radius]) {
      const sin = (side - aside) / this.rim;
      if (Math.abs(sin) >= 1) continue;
      const up = arcsine(sin);
      out.push(turned(direction + up), turned(direction + Math.PI - up));
    }
  }
}

function turned(angle: Rad): Rad {
  const a = angle % TURN;
  return a < 0 ? a + TURN : a;
}
