/**
 * The feed a tooth, or a turn, of every stroke against the handbook's. Strokes that seem to cut air count as well: a spring pass
 * takes what the cutter was bent aside by before, which no field shows.
 */
import { arctangent2, sine } from '../../base/angles.ts';
import type { Mm } from '../../base/units.ts';
import { pointAt, segmentLength } from '../../geometry/measure/segment.ts';
import type { Point } from '../../geometry/types.ts';
import type { CutterKind, Job } from '../../part/part.ts';
import type { Material } from '../../trade/materials/materials.ts';
import {
  ARC_FEED,
  CHIP_THINNING_CAP,
  CONE_TOOTH_FEED,
  PLUNGE_FEED,
  RAMP_FEED,
  toothFeedStart,
} from '../../trade/milling-rules.ts';
import type { Removal } from '../field/removal.ts';
import type { Findings } from '../report/findings.ts';
import { isVertical, type Stroke, spotOf, strokeLength } from '../strokes/stroke.ts';
import type { Strokes } from '../strokes/strokes.ts';
import type { WantedPart, WantedParts } from '../wanted/wanted.ts';
import type { CheckedSetUp } from '../work.ts';

/**
 * A tooth may be fed this many times the start value. It is the most by which a light machine's feed is raised for a thin cut, and
 * published values for a thick one, of cutters on stiffer machines, do not go further beyond the start.
 */
const TOOTH_SPREAD = CHIP_THINNING_CAP.value;
/** A feed in inches is written with two or three decimals. */
const WRITTEN_FEED = 1.005;
/** How many times the rule a drill's feed a turn may be: 0.033 to 0.05 of the diameter is the most published at 6 mm, by material, against starts of 0.015 to 0.02. */
const TURN_SPREAD = 2.5;
/** Reamers are fed two to three times as fast as drills (physics, 2.5). */
const REAM_FEED = 3;
/** An end mill that goes straight down over less than this share of its end cuts with its side. */
const END_SHARE = 0.25;

const ON_AXIS: readonly CutterKind[] = ['drill', 'reamer', 'spot drill', 'centre drill', 'countersink', 'counterbore'];

/** Cuts along its own axis only, so that its feed counts by the turn. */
export function cutsOnAxis(s: Stroke): boolean {
  return isVertical(s) && ON_AXIS.includes(s.tool.cutter.kind);
}

type CutPlate = Pick<CheckedSetUp, 'strokes' | 'wanted' | 'job'>;

export function checkChips(work: CutPlate, m: Material, removal: Removal, out: Findings): void {
  const { strokes, job } = work;
  for (const s of strokes) {
    // A tap's feed follows from its pitch. Above the stock a feed is only slow or fast air.
    if (s.rapid || s.cycle === 84 || s.low >= job.stock.max[2] || !(s.speed > 0 && s.feed > 0)) continue;
    const { volume, touched } = removal.of(s);
    const removed = { volume, depth: touched - s.low, cell: removal.field.cell };
    if (cutsOnAxis(s)) judgeTurn(s, removed.depth, m, job, out);
    else judgeTooth(s, removed, m, work, out);
  }
  out.prove(
    'feeds',
    null,
    'unsafe',
    `feed a tooth at the edge of the cut within ${TOOTH_SPREAD} times the handbook's start value, half of that down a ramp, ${(TOOTH_SPREAD * PLUNGE_FEED.high).toFixed(2)} straight down; drills within ${TURN_SPREAD} times. A feed that was lowered for another reason is not missed until it passes these`,
  );
}

function judgeTurn(s: Stroke, depth: Mm, m: Material, job: Job, out: Findings): void {
  const { cutter } = s.tool;
  // Drawn out, or in a hole that is as wide already.
  if (s.zb >= s.za) return;
  const turn = s.feed / s.speed;
  const ream = cutter.kind === 'reamer' ? REAM_FEED : 1;
  const most = TURN_SPREAD * ream * m.drillFeedPerDiameter.value * cutDiameter(s, depth);
  if (turn <= most) return;
  const found = `cutter ${cutter.number} is fed ${turn.toFixed(3)} mm a turn`;
  const wanted = `at most ${most.toFixed(3)} in ${job.material}`;
  out.fault({ code: 'feed-too-high', at: spotOf(s), found, wanted, remedy: 'lower F or raise S' });
}

/** A point that only dimples the stock cuts no wider than the dimple, and is fed by that. */
function cutDiameter(s: Stroke, depth: Mm): Mm {
  const { cutter, shape } = s.tool;
  const dimples = cutter.kind === 'spot drill' || cutter.kind === 'centre drill' || cutter.kind === 'countersink';
  return dimples && depth > 0 ? Math.min(cutter.diameter, 2 * shape.at(depth)) : cutter.diameter;
}

interface Removed {
  readonly volume: number;
  /** Greatest depth below the stock touched. */
  readonly depth: Mm;
  /** Of the field: what is narrower may be rounding, and hardly bends a tooth. */
  readonly cell: Mm;
}

/** Mean width of the cut; 0 where nothing was cut. */
function widthOf(s: Stroke, { volume, depth }: Removed): Mm {
  return volume > 0 && depth > 0 ? volume / (strokeLength(s) * depth) : 0;
}

function judgeTooth(s: Stroke, removed: Removed, m: Material, work: CutPlate, out: Findings): void {
  const { strokes, wanted, job } = work;
  const c = s.tool.cutter;
  const tooth = s.feed / (s.speed * c.flutes);
  const table = toothFeedStart(c.diameter, m, c.material).value;
  const start = s.tool.shape.pointed ? Math.min(table, CONE_TOOTH_FEED.high) : table;
  const plain = TOOTH_SPREAD * WRITTEN_FEED * start;
  const down = plain * downward(s, removed.volume);
  // However the path bends, the handbook's own start is not too high.
  if (tooth <= start * WRITTEN_FEED && tooth <= down) return;
  const bend = bendOf(s, strokes, widthOf(s, removed), wanted);
  // Round an outside the centre is fed faster; inside, the width of the cut is known only in the mean; a way through what is cut
  // already may be quicker than a cut.
  const curved = bend.kind === 'straight' && widthOf(s, removed) > removed.cell ? 1 : ARC_FEED.outside.value;
  const inside = bend.kind === 'inside' ? bend.factor : 1;
  // Way down and bend are each judged by themselves: a helix into a bore has both, and is fed for the one.
  const [fed, most] = tooth > down * curved ? [tooth, down * curved] : [tooth * inside, plain * curved];
  if (fed <= most) return;
  out.fault({
    code: 'feed-too-high',
    at: spotOf(s),
    found: `cutter ${c.number} is fed ${fed.toFixed(3)} mm a tooth${fed > tooth ? ' at the wall' : ''}`,
    wanted: `at most ${most.toFixed(3)} mm in ${job.material}`,
    remedy: 'lower F or raise S',
  });
}

/** What a way down leaves of the feed sideways. */
function downward(s: Stroke, volume: number): number {
  if (s.zb >= s.za) return 1;
  if (!isVertical(s)) return RAMP_FEED.value;
  const end = Math.PI * s.tool.shape.radius ** 2 * strokeLength(s);
  return volume >= END_SHARE * end ? PLUNGE_FEED.high : 1;
}

/** How a path runs to the wall that it cuts. Along the inside of a curve the edge is faster than the centre, by `factor` where the
 * chip is thickest: on the inner side of the cut. */
type Bend =
  | { readonly kind: 'straight' }
  | { readonly kind: 'outside' }
  | { readonly kind: 'inside'; readonly factor: number };

const STRAIGHT: Bend = { kind: 'straight' };
/** Centre feeds are not lowered further than to a quarter inside small curves, so the edge is taken as no more than four times as fast. */
const WORST_INSIDE = 4;
/** A wall this far beyond the disc is the one being cut. */
const WALL: Mm = 0.05;

function bendOf(s: Stroke, strokes: Strokes, width: Mm, wanted: WantedParts): Bend {
  const curve = curveOf(s, strokes);
  // Shorter than the feed of one turn: no tooth sees such a bend.
  if (curve === undefined || strokeLength(s) < s.feed / s.speed) return STRAIGHT;
  const part = wanted.parts.find((p) => aroundSolid(p, curve, s));
  if (part !== undefined) return { kind: 'outside' };
  // Wider cuts are thickest ahead of the centre. A cone cuts beside its axis, where edge and centre are about as fast.
  if (s.low >= 0 || s.tool.shape.pointed || width === 0 || width >= s.tool.shape.radius) return STRAIGHT;
  const { centre, radius, middle } = curve;
  const reach = (radius + s.tool.shape.radius + WALL) / radius;
  const beyond = { x: centre.x + (middle.x - centre.x) * reach, y: centre.y + (middle.y - centre.y) * reach };
  if (!wanted.parts.some((p) => solidAt(p, beyond, s.low)) || levelsHelix(s, strokes, radius)) return STRAIGHT;
  return { kind: 'inside', factor: Math.min(WORST_INSIDE, (radius + s.tool.shape.radius - width) / radius) };
}

/** The first turn after a ramp takes the wedge that the ramp left, ahead of the centre and not at the wall. */
function levelsHelix(first: Stroke, strokes: Strokes, radius: Mm): boolean {
  let left = 2 * Math.PI * radius;
  for (const s of strokes.backwards(first.index)) {
    if (left <= 0) return false;
    if (s.rapid || isVertical(s)) return false;
    if (s.zb < s.za) return true;
    left -= strokeLength(s);
  }
  return false;
}

interface BendCircle {
  readonly centre: Point;
  readonly radius: Mm;
  readonly middle: Point;
}

/** The circle that an arc runs on, or that short straight strokes follow as chords. */
function curveOf(s: Stroke, strokes: Strokes): BendCircle | undefined {
  const { path } = s;
  if (path.kind === 'arc') return { centre: path.centre, radius: path.radius, middle: pointAt(path, 0.5) };
  const length = segmentLength(path);
  if (length === 0) return undefined;
  const before = turnTo(strokes.at(s.index - 1), s);
  const after = turnTo(s, strokes.at(s.index + 1));
  if (before === undefined || after === undefined || !alike(before, after)) return undefined;
  const by = Math.abs(before) < Math.abs(after) ? before : after;
  if (Math.abs(by) > MOST_TURN) return undefined;
  const radius = length / 2 / sine(Math.abs(by) / 2);
  if (radius > STRAIGHT_FROM * s.tool.shape.radius) return undefined;
  const side = Math.sign(by) * Math.sqrt(Math.max(0, radius * radius - (length / 2) ** 2));
  const middle = pointAt(path, 0.5);
  const [ux, uy] = [(path.b.x - path.a.x) / length, (path.b.y - path.a.y) / length];
  return { centre: { x: middle.x - uy * side, y: middle.y + ux * side }, radius, middle };
}

/** Corners sharper than this are no chords of a curve. */
const MOST_TURN = Math.PI / 4;
/** On a radius this many times the cutter's the correction is lost in the spread. */
const STRAIGHT_FROM = 20;

function alike(a: number, b: number): boolean {
  return a * b > 0 && Math.abs(a) < 2 * Math.abs(b) && Math.abs(b) < 2 * Math.abs(a);
}

/** Angle from one straight stroke to the next, left positive; undefined where they do not join. */
function turnTo(a: Stroke | undefined, b: Stroke | undefined): number | undefined {
  if (a === undefined || b === undefined || a.rapid || b.rapid || a.tool !== b.tool) return undefined;
  if (!alike(strokeLength(a), strokeLength(b))) return undefined;
  if (a.path.kind !== 'line' || b.path.kind !== 'line' || isVertical(a) || isVertical(b)) return undefined;
  const [ax, ay] = [a.path.b.x - a.path.a.x, a.path.b.y - a.path.a.y];
  const [bx, by] = [b.path.b.x - b.path.a.x, b.path.b.y - b.path.a.y];
  return arctangent2(ax * by - ay * bx, ax * bx + ay * by);
}

/** The curve goes round solid: a corner of the edge, or an island. */
function aroundSolid(part: WantedPart, curve: BendCircle, s: Stroke): boolean {
  if (!part.edge.inside(curve.middle)) return part.edge.inside(curve.centre);
  return part.pockets.some((p) => s.low > p.bottom - WALL && p.islands.some((i) => i.inside(curve.centre)));
}

function solidAt(part: WantedPart, p: Point, z: Mm): boolean {
  if (!part.edge.inside(p)) return false;
  const free = part.holes.some((h) => Math.hypot(p.x - h.at.x, p.y - h.at.y) < h.allowed(Math.min(0, z)));
  if (free) return false;
  return !part.pockets.some((k) => z >= k.bottom - WALL && k.outer.inside(p) && !k.islands.some((i) => i.inside(p)));
}
