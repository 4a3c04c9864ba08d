/**
 * Everything that shall be cut is cut: the outline's edge to full depth, walls of pockets and bores, chamfers. A wall counts as
 * reached where a cutter at full radius passes within the limit at the wall's foot or below.
 */
import type { Mm } from '../../base/units.ts';
import { rot90, step } from '../../geometry/measure/point.ts';
import { directionAt, line, nearestOn, pointAt, segmentBox } from '../../geometry/measure/segment.ts';
import type { Point } from '../../geometry/types.ts';
import type { FaultCode } from '../report/codes.ts';
import type { Findings } from '../report/findings.ts';
import type { Stroke } from '../strokes/stroke.ts';
import type { Strokes } from '../strokes/strokes.ts';
import { lackInside, lackOutside, near } from '../wanted/clear.ts';
import type { Edge } from '../wanted/pieces.ts';
import { Coverage, type DiscCut, type UncutSpan } from './coverage.ts';
import { Uncut } from './uncut.ts';

export interface WallToCut {
  /** `edge`, `pocket 2 wall`: for the finding. */
  readonly name: string;
  readonly code: FaultCode;
  readonly part: number;
  readonly edge: Edge;
  /** What the cutter keeps off, where that is more than the edge. */
  readonly bounds?: Edge;
  /** On which side of the edge the cutter runs. */
  readonly side: 'outside' | 'inside';
  /** Height of the wall's foot. */
  readonly foot: Mm;
  /** Thickest stock that may be left on it. */
  readonly slack: Mm;
  /** Where and how wide a stroke cuts at the wall; the usual: its full radius, at the foot or below. */
  reach(s: Stroke): DiscCut | undefined;
  /** Whether a stroke that reaches the wall comes in there, so that it could have come into its corners; absent: each does. */
  entered?(s: Stroke): boolean;
  /** Left on purpose there: a tab, a stub. `enters`: the cutter could have reached the point. */
  spared(p: Point, enters: boolean): boolean;
  /** After all points: a place that spares more, or far less, than it was declared to. */
  overrun?(): { readonly at: Point; readonly found: number; readonly declared: number } | undefined;
}

export interface Reach {
  readonly state: 'reached' | 'part' | 'nothing';
}

/** Two passes over the strokes: which stretches are reached, and how much stands where they are not. */
export function checkWalls(walls: readonly WallToCut[], strokes: Strokes, complete: boolean, out: Findings): Reach[] {
  const looks = walls.map((wall) => new Look(wall));
  for (const s of strokes) if (!s.rapid) for (const look of looks) look.reach(s);
  const open = looks.filter((look) => look.stop());
  if (open.length > 0) for (const s of strokes) if (!s.rapid) for (const look of open) look.measure(s);
  return looks.map((look) => look.judge(complete, out));
}

class Look {
  readonly wall: WallToCut;
  private readonly cover: Coverage;
  /** Radius of the narrowest cut that comes in, and of the narrowest of all. */
  private smallest: Mm = Infinity;
  private least: Mm = Infinity;
  private last: Stroke | undefined;
  private uncut: readonly Uncut[] = [];

  constructor(wall: WallToCut) {
    this.wall = wall;
    this.cover = new Coverage(wall.edge.pieces, wall.edge.boxes);
  }

  reach(s: Stroke): void {
    const { wall } = this;
    const cut = this.cutOf(s);
    if (cut === undefined || !this.cover.add(cut.path, s.box, cut.radius, wall.slack)) return;
    if (wall.entered?.(s) ?? true) this.smallest = Math.min(this.smallest, cut.radius);
    this.least = Math.min(this.least, cut.radius);
    this.last = s;
  }

  private cutOf(s: Stroke): DiscCut | undefined {
    const { wall } = this;
    return near(wall.edge.box, s.box, s.tool.shape.radius + wall.slack) ? wall.reach(s) : undefined;
  }

  /** No stroke reaches more of it: whether stretches are left. */
  stop(): boolean {
    if (this.last !== undefined) this.uncut = this.cover.gaps().map((gap) => new Uncut(gap));
    return this.uncut.length > 0;
  }

  measure(s: Stroke): void {
    const cut = this.cutOf(s);
    if (cut !== undefined) for (const u of this.uncut) u.add(cut, s.box);
  }

  judge(complete: boolean, out: Findings): Reach {
    if (this.last !== undefined) {
      const smallest = this.smallest === Infinity ? this.least : this.smallest;
      return judge(this.wall, this.uncut, { smallest, last: this.last }, complete, out);
    }
    tellNothing(this.wall, complete, out);
    return { state: 'nothing' };
  }
}

function tellNothing(wall: WallToCut, complete: boolean, out: Findings): void {
  const what = `${wall.name} of part ${wall.part + 1}`;
  if (!complete) {
    out.doubt(`${what} cut`, 'not cut by the programs given, and some programs of the job are absent');
    return;
  }
  const p = pointAt(wall.edge.pieces[0]!, 0.5);
  const found = `${what} is not cut to z ${wall.foot.toFixed(3)} anywhere`;
  const wanted = 'all of it cut';
  const remedy = 'add the missing cut';
  out.fault({ code: wall.code, at: { program: 0, block: 0, at: [p.x, p.y] }, found, wanted, remedy });
}

interface Left {
  readonly point: Point;
  readonly size: Mm;
}

/** The cuts at a wall: radius of the narrowest that comes in, and the last of them. */
interface CutsAtWall {
  readonly smallest: Mm;
  readonly last: Stroke;
}

function judge(
  wall: WallToCut,
  uncut: readonly Uncut[],
  { smallest, last }: CutsAtWall,
  complete: boolean,
  out: Findings,
): Reach {
  let worst: Left | undefined;
  let corner: Left | undefined;
  for (const { gap, points, left: standing } of uncut) {
    for (const [i, point] of points.entries()) {
      const left = { point, size: standing[i]! };
      if (left.size <= wall.slack) continue;
      const enters = canEnter(wall, gap, point, smallest);
      if (wall.spared(point, enters)) continue;
      if (enters) worst = larger(worst, left);
      else corner = larger(corner, left);
    }
  }
  const what = `${wall.name} of part ${wall.part + 1}`;
  const spot = { program: last.program, block: last.block };
  if (corner !== undefined) {
    const { point, size } = corner;
    const text = `inside corner on ${what} left round by the cutter of ${(2 * smallest).toFixed(3)} mm, up to ${size.toFixed(3)} mm of stock`;
    out.note({ code: 'corner-left-round', at: { ...spot, at: [point.x, point.y] }, size, found: text });
  }
  const over = wall.overrun?.();
  if (over !== undefined && complete) {
    out.fault({
      code: 'tab-footprint',
      at: { ...spot, at: [over.at.x, over.at.y] },
      size: Math.abs(over.found - over.declared),
      found: `${over.found.toFixed(2)} mm of ${what} are not cut to full depth at a tab`,
      wanted: `${over.found > over.declared ? 'no more than' : 'about'} its declared footprint, ${over.declared.toFixed(2)} mm`,
      remedy: 'declare the footprint that the path leaves',
    });
  }
  if (worst === undefined) return { state: 'reached' };
  const { point, size } = worst;
  const at = [point.x, point.y] as const;
  if (complete) {
    const found = `${what} keeps ${size.toFixed(3)} mm of stock at z ${wall.foot.toFixed(3)}`;
    const wanted = `no more than ${wall.slack.toFixed(3)} mm`;
    const remedy = 'cut the whole of it to full depth, or declare the tab that stands there';
    out.fault({ code: wall.code, at: { ...spot, at }, size, found, wanted, remedy });
  } else out.doubt(`${what} cut`, 'not wholly cut by the programs given, and some programs of the job are absent');
  return { state: 'part' };
}

function larger(a: Left | undefined, b: Left): Left {
  return a === undefined || b.size > a.size ? b : a;
}

/** Whether the disc of the smallest cutter, touching the edge at the point, stays clear of the rest of it. */
function canEnter(wall: WallToCut, gap: UncutSpan, point: Point, radius: Mm): boolean {
  const { t } = nearestOn(gap.piece, point);
  const n = rot90(directionAt(gap.piece, t));
  const probe = step(point, n, 1e-4);
  const outward = wall.edge.inside(probe) === (wall.side === 'inside') ? 1 : -1;
  const centre = step(point, n, outward * radius);
  const path = line(centre, centre);
  const box = segmentBox(path);
  const need = radius - CLEAR;
  const lack =
    wall.side === 'outside'
      ? lackOutside(wall.bounds ?? wall.edge, path, box, need)
      : lackInside(wall.edge, path, box, need);
  return lack <= 0;
}

/** A disc that digs in by less than this while touching elsewhere still enters. */
const CLEAR: Mm = 1e-3;
