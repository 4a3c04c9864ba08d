/**
 * The profile as figures for a mill with a digital readout and a rotary table, no CNC. Counter-clockwise round the part,
 * so that the cutter feeds against its teeth: the safe way on slides with backlash.
 *
 * Conventions. Angles are how far the work has been turned clockwise, seen from above, from where the reference line of its
 * centre points to X+. On an arc the cutter stands on the X axis at `radius` from the table's centre. A flank is turned
 * until it lies along X; the cutter runs in front of it, at Y from the table's centre, from one X to the other.
 */
import { type Deg, type Mm, toDeg, toRad } from '../../../base/units.ts';
import { add, angleOf, dist, dot, rotate, sub } from '../../../geometry/measure/point.ts';
import { directionAt } from '../../../geometry/measure/segment.ts';
import { startAngle } from '../../../geometry/measure/sweep.ts';
import { type Placement, placePoint } from '../../../geometry/measure/transform.ts';
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

export interface KnownFigures {
  readonly kind: 'figures';
  readonly centres: readonly Centre[];
  readonly steps: readonly HandStep[];
  /** All pieces in order, corners that the cutter swings round included. */
  readonly pieces: readonly CutterPiece[];
  /** Names of pieces that end in an inside corner sharper than the cutter. */
  readonly short: readonly string[];
}

export type HandFigures = KnownFigures | { readonly kind: 'too many'; readonly count: number };

export interface EdgeToTurn {
  /** Placed edge, counter-clockwise. */
  readonly edge: Loop;
  readonly side: 'outside' | 'inside';
  readonly centres: readonly Centre[];
  /** Of the finishing cutter. */
  readonly radius: Mm;
  /** How much farther from the edge the cutter's centre runs when roughing: allowance, and difference of radii. */
  readonly farther: Mm;
}

export function handFigures(on: EdgeToTurn): HandFigures {
  const found = cutterPath(on.edge, on.side, on.radius);
  if (found.kind === 'too many') return found;
  const names = on.edge.map((s, i) => pieceName(on, s.kind, i));
  const steps = found.pieces.flatMap((p): HandStep[] => {
    if (p.source === null) return [];
    const name = names[p.source]!;
    const edge = on.edge[p.source]!;
    if (p.path.kind === 'arc' && edge.kind === 'arc') return [arcStep(on, name, p.path, edge)];
    return p.path.kind === 'line' ? [flankStep(on, name, p.path, p.source)] : [];
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

function pieceName(on: EdgeToTurn, kind: 'line' | 'arc', index: number): string {
  const s = on.edge[index]!;
  const number = on.edge.slice(0, index + 1).filter((x) => x.kind === kind).length;
  if (s.kind === 'line') return `flank ${number}`;
  const boss = on.centres.find((c) => dist(c.at, s.centre) < SAME_CENTRE);
  const hollow = s.sweep < 0 === (on.side === 'outside');
  return `${hollow ? 'hollow' : 'arc'} ${number}${boss === undefined ? '' : `, ${boss.name}`}`;
}

/** Centres nearer than this are one for a rotary table (micrometre). */
const SAME_CENTRE: Mm = 1e-3;

function arcStep(on: EdgeToTurn, name: string, path: Arc, edge: Arc): ArcStep {
  const own = on.centres.find((c) => dist(c.at, path.centre) < SAME_CENTRE);
  const centre = own ?? { name: `centre of ${name}`, at: path.centre, reference: ALONG_X };
  const from = clockwise(startAngle(path), centre);
  // Away from the edge is outward from the centre where the cutter stands farther out than the edge.
  const away = path.radius > edge.radius ? on.farther : -on.farther;
  const to = from + toDeg(path.sweep);
  return { kind: 'arc', name, centre, path, from, to, radius: path.radius, rough: path.radius + away };
}

function flankStep(on: EdgeToTurn, name: string, path: Line, index: number): FlankStep {
  const centre = flankCentre(on, index);
  const u = directionAt(path, 0);
  // Turned so that the direction of travel is X+, the material lies on the left (away), the cutter of an outside edge in front.
  const normal = { x: u.y, y: -u.x };
  const out = dot(sub(path.a, centre.at), normal);
  const sign = on.side === 'outside' ? 1 : -1;
  const [fromX, toX] = [path.a, path.b].map((p) => dot(sub(p, centre.at), u)) as [Mm, Mm];
  const turn = clockwise(angleOf(u), centre);
  return { kind: 'flank', name, centre, path, turn, y: 0 - out, rough: 0 - (out + sign * on.farther), fromX, toX };
}

/** The centre of the arc before the flank, or after it, so that the table need not be moved between the two; else the first. */
function flankCentre(on: EdgeToTurn, index: number): Centre {
  const n = on.edge.length;
  for (const i of [index - 1, index + 1]) {
    const s = on.edge[(i + n) % n]!;
    if (s.kind !== 'arc') continue;
    const own = on.centres.find((c) => dist(c.at, s.centre) < SAME_CENTRE);
    if (own !== undefined) return own;
  }
  return on.centres[0]!;
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
  return add(centre.at, rotate(readout, centre.reference.direction + toRad(turned)));
}
