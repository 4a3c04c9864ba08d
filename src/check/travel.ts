/** How far the program moves, how long it takes, and whether it stays within the machine. */
import type { Mm, MmPerMin, Second } from '../base/units.ts';
import { directionAt, segmentBox, segmentLength } from '../geometry/measure/segment.ts';
import type { Machine } from '../part/part.ts';
import type { Findings } from './findings.ts';
import type { CanonicalMove } from './language/canonical.ts';
import { ROUNDING } from './limits.ts';
import type { Track } from './track.ts';

export interface Envelope {
  readonly min: readonly [Mm, Mm, Mm];
  readonly max: readonly [Mm, Mm, Mm];
}

export function envelopeOf(tracks: readonly Track[]): Envelope | null {
  if (tracks.length === 0) return null;
  const min: [Mm, Mm, Mm] = [Infinity, Infinity, Infinity];
  const max: [Mm, Mm, Mm] = [-Infinity, -Infinity, -Infinity];
  for (const t of tracks) {
    const b = segmentBox(t.path);
    min[0] = Math.min(min[0], b.minX);
    min[1] = Math.min(min[1], b.minY);
    min[2] = Math.min(min[2], t.za, t.zb);
    max[0] = Math.max(max[0], b.maxX);
    max[1] = Math.max(max[1], b.maxY);
    max[2] = Math.max(max[2], t.za, t.zb);
  }
  return { min, max };
}

export function checkTravel(
  envelope: Envelope | null,
  read: readonly { readonly moves: readonly CanonicalMove[] }[],
  machine: Machine,
  out: Findings,
): void {
  if (envelope === null) return;
  for (const [i, axis] of ['X', 'Y', 'Z'].entries()) {
    const span = envelope.max[i]! - envelope.min[i]!;
    const room = machine.travel[i]!;
    if (span <= room + ROUNDING) continue;
    out.fault(
      'travel',
      `the program moves ${span.toFixed(1)} mm along ${axis}`,
      `at most ${room}, the travel of the machine`,
      'place the part otherwise or take a smaller clearance',
      { ...firstBeyond(read, i, envelope.min[i]! + room), size: span - room },
    );
  }
}

/** The move that first ends further along an axis than the travel reaches from the least place. */
function firstBeyond(read: readonly { readonly moves: readonly CanonicalMove[] }[], axis: number, most: Mm) {
  for (const [program, r] of read.entries()) {
    const move = r.moves.find((m) => ([m.to.x, m.to.y, m.to.z][axis] ?? -Infinity) > most);
    if (move !== undefined) return { program, block: move.block };
  }
  return { program: 0, block: 0 };
}

/** Departure at a corner that a control may take while blending two moves (physics, section 10). */
const BLEND: Mm = 0.01;
/** Stated when no machine is known: a light mill. */
const LIGHT_MILL = { rapid: 1000, acceleration: 200 };

/**
 * Time by a trapezoid of speed for every move, with corners taken at the speed at which a blend of 0.01 mm needs no more
 * than the machine's acceleration, looking one pass back and one ahead. Exact path mode stops at every corner that is not smooth.
 */
export function secondsOf(tracks: readonly Track[], moves: readonly CanonicalMove[], machine: Machine | null): Second {
  const a = machine?.acceleration ?? LIGHT_MILL.acceleration;
  const rapid = (machine?.rapid ?? LIGHT_MILL.rapid) / 60;
  const runs = tracks.map((t) => ({ length: lengthOf(t), speed: speedOf(t, rapid, a) }));
  const entry = runs.map((r, i) =>
    i === 0 ? 0 : Math.min(r.speed, runs[i - 1]!.speed, cornerSpeed(tracks[i - 1]!, tracks[i]!, a)),
  );
  entry.push(0);
  for (let i = runs.length - 1; i >= 0; i--)
    entry[i] = Math.min(entry[i]!, Math.sqrt(entry[i + 1]! ** 2 + 2 * a * runs[i]!.length));
  let seconds = 0;
  for (const [i, r] of runs.entries()) {
    entry[i + 1] = Math.min(entry[i + 1]!, Math.sqrt(entry[i]! ** 2 + 2 * a * r.length));
    seconds += moveTime(r.length, r.speed, entry[i]!, entry[i + 1]!, a);
  }
  return seconds + moves.reduce((sum, m) => sum + (m.kind === 'dwell' ? m.seconds : 0), 0);
}

function lengthOf(t: Track): Mm {
  return Math.hypot(segmentLength(t.path), t.zb - t.za);
}

function speedOf(t: Track, rapid: number, a: number): number {
  const wanted: MmPerMin = t.rapid ? rapid * 60 : t.feed;
  const speed = Math.max(wanted / 60, 1e-6);
  return t.path.kind === 'arc' ? Math.min(speed, Math.sqrt(a * t.path.radius)) : speed;
}

function moveTime(length: Mm, cruise: number, v0: number, v1: number, a: number): Second {
  if (length === 0) return 0;
  const peak = Math.min(cruise, Math.sqrt(a * length + (v0 * v0 + v1 * v1) / 2));
  const ramps = (2 * peak * peak - v0 * v0 - v1 * v1) / (2 * a);
  return (2 * peak - v0 - v1) / a + Math.max(0, length - ramps) / peak;
}

function cornerSpeed(p: Track, q: Track, a: number): number {
  const u = directionOf(p, 1);
  const v = directionOf(q, 0);
  const cos = -(u[0] * v[0] + u[1] * v[1] + u[2] * v[2]);
  const half = Math.sqrt(Math.max(0, (1 - cos) / 2));
  if (half > 1 - 1e-9) return Infinity;
  return p.exact || q.exact ? (half > 0.9999 ? Infinity : 0) : Math.sqrt((a * BLEND * half) / (1 - half));
}

function directionOf(t: Track, at: 0 | 1): readonly [number, number, number] {
  const l = lengthOf(t);
  if (l === 0) return [0, 0, 0];
  const flat = segmentLength(t.path) / l;
  const d = directionAt(t.path, at);
  return [d.x * flat, d.y * flat, (t.zb - t.za) / l];
}
