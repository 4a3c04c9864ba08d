/**
 * The profile as figures for a mill with a digital readout and a rotary table, no CNC. Counter-clockwise round the part,
 * so that the cutter feeds against its teeth: the safe way on slides with backlash.
 *
 * Conventions. Angles are how far the work has been turned clockwise, seen from above, from where the reference line of its
 * centre points to X+. On an arc the cutter stands on the X axis at `radius` from the table's centre. A flank is turned
 * until it lies along X; the cutter runs in front of it, at Y from the table's centre, from one X to the other.
 */
import { type Deg, type Mm, toDeg } from '../../../base/units.ts';
import { angleOf, dist, dot, step, sub } from '../../../geometry/measure/point.ts';
import { directionAt } from '../../../geometry/measure/segment.ts';
import { startAngle } from '../../../geometry/measure/sweep.ts';
import type { Placement } from '../../../geometry/measure/transform.ts';
import { placePoint } from '../../../geometry/measure/transform.ts';
import type { Arc, Line, Loop, Point } from '../../../geometry/types.ts';
import type { Job, Outline } from '../../../part/part.ts';
import { type CutterPiece, cutterPath } from '../drawing/cutter-path.ts';

/** A point of the work that is brought over the rotary table's centre. */
export interface Centre {
  readonly name: string;
  readonly at: Point;
  readonly reference: { readonly words: string; readonly direction: number };
}

export interface ArcStep {
  readonly kind: 'arc';
  readonly name: string;
  readonly centre: Centre;
  /** Cutter centre from the table's centre, finishing; `rough`: when roughing. */
  readonly radius: Mm;
  readonly rough: Mm;
  readonly from: Deg;
  readonly to: Deg;
  readonly path: Arc;
}

export interface FlankStep {
  readonly kind: 'flank';
  readonly name: string;
  readonly centre: Centre;
  readonly turn: Deg;
  readonly y: Mm;
  readonly rough: Mm;
  readonly fromX: Mm;
  readonly toX: Mm;
  readonly path: Line;
}

export type HandStep = ArcStep | FlankStep;

export type HandFigures =
  | {
      readonly kind: 'figures';
      readonly centres: readonly Centre[];
      readonly steps: readonly HandStep[];
      /** All pieces in order, corners that the cutter swings round included. */
      readonly pieces: readonly CutterPiece[];
      /** Names of pieces that end in an inside corner sharper than the cutter. */
      readonly short: readonly string[];
    }
  | { readonly kind: 'too many'; readonly count: number };

export interface HandWish {
  /** Placed edge, counter-clockwise. */
  readonly edge: Loop;
  readonly side: 'outside' | 'inside';
  readonly centres: readonly Centre[];
  /** Of the finishing cutter. */
  readonly radius: Mm;
  /** How much farther from the edge the cutter's centre runs when roughing: allowance, and difference of radii. */
  readonly farther: Mm;
}

export function handFigures(wish: HandWish): HandFigures {
  const found = cutterPath(wish.edge, wish.side, wish.radius);
  if (found.kind === 'too many') return found;
  const names = wish.edge.map((s, i) => pieceName(wish, s.kind, i));
  const steps = found.pieces.flatMap((p): HandStep[] => {
    if (p.source === null) return [];
    const name = names[p.source]!;
    const edge = wish.edge[p.source]!;
    if (p.path.kind === 'arc' && edge.kind === 'arc') return [arcStep(wish, name, p.path, edge)];
    return p.path.kind === 'line' ? [flankStep(wish, name, p.path, p.source)] : [];
  });
  const used = steps.map((s) => s.centre);
  const centres = used.filter((c, i) => used.findIndex((o) => o.name === c.name) === i);
  return { kind: 'figures', centres, steps, pieces: found.pieces, short: found.short.map((i) => names[i]!) };
}

/**
 * Bosses and ends of a slot with the line to the next as reference, the centre of a circle; the first hole or the part's
 * zero for whatever has no arc of its own.
 */
export function centresOf(job: Job, outline: Outline, place: Placement): Centre[] {
  const { source } = outline;
  if (source.kind === 'bosses') {
    const places = source.bosses.map((b) => placePoint(place, b.at));
    return places.map((at, i) => {
      const web = source.webs.find((w) => w.includes(i));
      const other = web === undefined ? i : web[0] === i ? web[1] : web[0];
      return named('boss', i, at, other, places[other]!);
    });
  }
  if (source.kind === 'slot') {
    const [from, to] = [placePoint(place, source.from), placePoint(place, source.to)];
    return [named('slot end', 0, from, 1, to), named('slot end', 1, to, 0, from)];
  }
  if (source.kind === 'circle') return [{ name: 'centre', at: placePoint(place, source.at), reference: ALONG_X }];
  const hole = job.part.holes[0];
  const at = placePoint(place, hole?.at ?? { x: 0, y: 0 });
  return [{ name: hole === undefined ? 'part zero' : `hole ${hole.index + 1}`, at, reference: ALONG_X }];
}

function named(kind: string, i: number, at: Point, other: number, there: Point): Centre {
  const alone = dist(at, there) < SAME_CENTRE;
  const words = `to the centre of ${kind} ${other + 1}`;
  const reference = alone ? ALONG_X : { words, direction: angleOf(sub(there, at)) };
  return { name: `${kind} ${i + 1}`, at, reference };
}

const ALONG_X = { words: 'along X+ of the set-up', direction: 0 } as const;

function pieceName(wish: HandWish, kind: 'line' | 'arc', index: number): string {
  const s = wish.edge[index]!;
  const number = wish.edge.slice(0, index + 1).filter((x) => x.kind === kind).length;
  if (s.kind === 'line') return `flank ${number}`;
  const boss = wish.centres.find((c) => dist(c.at, s.centre) < SAME_CENTRE);
  const hollow = s.sweep < 0 === (wish.side === 'outside');
  return `${hollow ? 'hollow' : 'arc'} ${number}${boss === undefined ? '' : `, ${boss.name}`}`;
}

/** Centres nearer than this are one for a rotary table (micrometre). */
const SAME_CENTRE: Mm = 1e-3;

function arcStep(wish: HandWish, name: string, path: Arc, edge: Arc): ArcStep {
  const own = wish.centres.find((c) => dist(c.at, path.centre) < SAME_CENTRE);
  const centre = own ?? { name: `centre of ${name}`, at: path.centre, reference: ALONG_X };
  const from = clockwise(startAngle(path), centre);
  // Away from the edge is outward from the centre where the cutter stands farther out than the edge.
  const away = path.radius > edge.radius ? wish.farther : -wish.farther;
  return {
    ...{ kind: 'arc', name, centre, path, from, to: from + toDeg(path.sweep) },
    radius: path.radius,
    rough: path.radius + away,
  };
}

function flankStep(wish: HandWish, name: string, path: Line, index: number): FlankStep {
  const centre = flankCentre(wish, index);
  const u = directionAt(path, 0);
  // Turned so that the direction of travel is X+, the material lies on the left (away), the cutter of an outside edge in front.
  const normal = { x: u.y, y: -u.x };
  const out = dot(sub(path.a, centre.at), normal);
  const sign = wish.side === 'outside' ? 1 : -1;
  return {
    ...{ kind: 'flank', name, centre, path },
    turn: clockwise(angleOf(u), centre),
    y: 0 - out,
    rough: 0 - (out + sign * wish.farther),
    fromX: dot(sub(path.a, centre.at), u),
    toX: dot(sub(path.b, centre.at), u),
  };
}

/** The centre of the arc before the flank, or after it, so that the table need not be moved between the two; else the first. */
function flankCentre(wish: HandWish, index: number): Centre {
  const n = wish.edge.length;
  for (const i of [index - 1, index + 1]) {
    const s = wish.edge[(i + n) % n]!;
    if (s.kind !== 'arc') continue;
    const own = wish.centres.find((c) => dist(c.at, s.centre) < SAME_CENTRE);
    if (own !== undefined) return own;
  }
  return wish.centres[0]!;
}

/** Turn of the work that brings a direction of the part to X+, in [0, 360). */
function clockwise(direction: number, centre: Centre): Deg {
  const deg = toDeg(direction - centre.reference.direction) % 360;
  const positive = deg < 0 ? deg + 360 : deg;
  // 359.999999 is a rounded 0.
  return positive > 360 - 1e-6 ? 0 : positive;
}

/** Place of the cutter's centre on the work, from what the table and the readout say: the figures read backwards. */
export function placeFromFigures(centre: Centre, turned: Deg, readout: Point): Point {
  const angle = centre.reference.direction + (turned * Math.PI) / 180;
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return step(centre.at, { x: readout.x * c - readout.y * s, y: readout.x * s + readout.y * c }, 1);
}
