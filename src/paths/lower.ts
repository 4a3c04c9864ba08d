/** Lowering to what the post can say: cycles written out as moves, arcs as chords. */
import { arccosine, arctangent2, cosine, sine } from '../base/angles.ts';
import type { Mm } from '../base/units.ts';
import { dist } from '../geometry/measure/point.ts';
import type { Point } from '../geometry/types.ts';
import type { Move, PostAbilities } from './moves.ts';

type Cycle = Extract<Move, { kind: 'cycle' }>;
type PlannedArc = Extract<Move, { kind: 'arc' }>;

/** How far above the last depth a peck's rapid return stops. */
const PECK_BACK_OFF: Mm = 0.3;

export function lower(moves: readonly Move[], post: PostAbilities): Move[] {
  const out: Move[] = [];
  let at: { x: Mm; y: Mm; z: Mm } = { x: Number.NaN, y: Number.NaN, z: Number.NaN };
  for (const move of moves) {
    if (move.kind === 'cycle' && !post.cycles) out.push(...writtenOut(move));
    else if (move.kind === 'arc' && !post.arcs) out.push(...chords(move, at, post));
    else out.push(move);
    at = endOf(move, at);
  }
  return out;
}

function endOf(move: Move, at: { x: Mm; y: Mm; z: Mm }): { x: Mm; y: Mm; z: Mm } {
  switch (move.kind) {
    case 'rapid':
    case 'feed':
    case 'arc':
      return { x: move.x ?? at.x, y: move.y ?? at.y, z: move.z ?? at.z };
    case 'cycle': {
      const last = move.places[move.places.length - 1]!;
      return { x: last.x, y: last.y, z: move.retract };
    }
    default:
      return at;
  }
}

/** The motions of G81, G82, G83, G85 with G98 (NISTIR 6556 section 3.5.16), for a control without them. */
function writtenOut(cycle: Cycle): Move[] {
  const out: Move[] = [];
  for (const place of cycle.places) {
    out.push({ kind: 'rapid', x: place.x, y: place.y }, { kind: 'rapid', z: cycle.from });
    out.push(...down(cycle));
    if (cycle.cycle === 'ream') out.push({ kind: 'feed', z: cycle.from, feed: cycle.feed });
    out.push({ kind: 'rapid', z: cycle.retract });
  }
  return out;
}

function down(cycle: Cycle): Move[] {
  const out: Move[] = [];
  if (cycle.cycle === 'peck') {
    for (let z = cycle.from - cycle.peck; z > cycle.bottom; z -= cycle.peck) {
      out.push({ kind: 'feed', z, feed: cycle.feed });
      out.push({ kind: 'rapid', z: cycle.retract }, { kind: 'rapid', z: z + PECK_BACK_OFF });
    }
  }
  out.push({ kind: 'feed', z: cycle.bottom, feed: cycle.feed });
  if (cycle.dwell > 0) out.push({ kind: 'dwell', seconds: cycle.dwell });
  return out;
}

function chords(move: PlannedArc, from: { x: Mm; y: Mm; z: Mm }, post: PostAbilities): Move[] {
  const radius = dist(from, move.centre);
  const start = arctangent2(from.y - move.centre.y, from.x - move.centre.x);
  const end = arctangent2(move.y - move.centre.y, move.x - move.centre.x);
  let sweep = end - start;
  if (move.counterClockwise && sweep <= 1e-12) sweep += 2 * Math.PI;
  if (!move.counterClockwise && sweep >= -1e-12) sweep -= 2 * Math.PI;
  // Chord error e of an arc cut into n chords: e = R (1 - cos(sweep / 2n)).
  const each = 2 * arccosine(Math.max(-1, 1 - post.chord / radius));
  const count = Math.max(1, Math.ceil(Math.abs(sweep) / each));
  const round = (v: Mm) => Math.round(v / post.grid) * post.grid;
  const z = move.z ?? from.z;
  const out: Move[] = [];
  for (let i = 1; i <= count; i++) {
    const angle = start + (sweep * i) / count;
    const p: Point =
      i === count
        ? { x: move.x, y: move.y }
        : { x: round(move.centre.x + radius * cosine(angle)), y: round(move.centre.y + radius * sine(angle)) };
    const level = move.z === undefined ? {} : { z: i === count ? move.z : round(from.z + ((z - from.z) * i) / count) };
    const as = move.as === undefined ? {} : { as: move.as };
    out.push({ kind: 'feed', ...p, ...level, feed: move.feed, ...as });
  }
  return out;
}
