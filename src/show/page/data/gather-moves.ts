/** The reader's moves as the page's columns: unknown positions filled with the last known, upright arcs cut into chords. */
import { cosine, sine } from '../../../base/angles.ts';
import type { MmPerMin } from '../../../base/units.ts';
import {
  ARC_CCW,
  ARC_CW,
  DWELL,
  FEED,
  HAND,
  type MoveColumns,
  newColumns,
  RAPID,
  TURN_CCW,
  TURN_CW,
} from './moves-pack.ts';
import type { ReadMove, ReadPosition } from './read-program.ts';
import type { XYZ } from './view-data.ts';

export interface GatheredMoves {
  readonly columns: MoveColumns;
  readonly feeds: readonly MmPerMin[];
  readonly changes: readonly (readonly [number, number])[];
}

interface MoveRow {
  readonly kind: number;
  readonly block: number;
  readonly to: XYZ;
  readonly centre?: readonly [number, number];
  readonly feed: number;
}

/** `only`: the one cutter that the head names; a program without a T word has it in the spindle. */
export function gatherMoves(moves: readonly ReadMove[], only: number | null = null): GatheredMoves {
  const rows: MoveRow[] = [];
  const feeds: number[] = [];
  const feedIndex = new Map<number, number>();
  const changes: [number, number][] = [];
  const start = firstKnown(moves);
  let here = start;
  let tool: number | null = null;
  if (only !== null && moves.every((m) => m.tool === null || m.tool === 0)) changes.push([0, only]);
  for (const m of moves) {
    if (m.tool !== null && m.tool !== 0 && m.tool !== tool) {
      tool = m.tool;
      changes.push([rows.length, tool]);
    }
    if (m.kind === 'dwell') {
      rows.push({ kind: DWELL, block: m.block, to: here, feed: Math.round((m.seconds ?? 0) * 1000) });
      continue;
    }
    if (!MOTION.has(m.kind)) continue;
    const feed = m.kind === 'rapid' ? 0 : indexOf(m.feed ?? 0, feeds, feedIndex);
    for (const row of rowsOf(m, here, feed)) {
      rows.push(row);
      here = row.to;
    }
  }
  return { columns: columnsOf(rows, start), feeds, changes };
}

const MOTION: ReadonlySet<string> = new Set(['rapid', 'feed', 'probe', 'arc']);

function indexOf(feed: number, feeds: number[], index: Map<number, number>): number {
  const known = index.get(feed);
  if (known !== undefined) return known;
  index.set(feed, feeds.length);
  return feeds.push(feed) - 1;
}

function firstKnown(moves: readonly ReadMove[]): XYZ {
  const first = (axis: 'x' | 'y' | 'z') => moves.find((m) => m.to[axis] !== null)?.to[axis] ?? 0;
  return [first('x'), first('y'), first('z')];
}

function known(p: ReadPosition): boolean {
  return p.x !== null && p.y !== null && p.z !== null;
}

function rowsOf(m: ReadMove, here: XYZ, feed: number): MoveRow[] {
  const to = [m.to.x ?? here[0], m.to.y ?? here[1], m.to.z ?? here[2]] as const;
  const plain = { block: m.block, to, feed };
  if (!known(m.from)) return [{ ...plain, kind: m.kind === 'rapid' ? RAPID : HAND }];
  if (m.kind === 'rapid') return [{ ...plain, kind: RAPID }];
  if (m.kind !== 'arc' || m.centre === undefined || m.sweep === undefined) return [{ ...plain, kind: FEED }];
  if (m.plane !== 'XY') return uprightChords(m, here, to, feed);
  return [{ ...plain, kind: arcKind(m.sweep, here, to), centre: [m.centre.x, m.centre.y] }];
}

/** Ends that fall on the same micrometre: a whole turn, or nothing to see. */
function arcKind(sweep: number, a: readonly number[], b: readonly number[]): number {
  const same =
    Math.round(a[0]! * 1000) === Math.round(b[0]! * 1000) && Math.round(a[1]! * 1000) === Math.round(b[1]! * 1000);
  if (!same) return sweep > 0 ? ARC_CCW : ARC_CW;
  if (Math.abs(sweep) < Math.PI) return FEED;
  return sweep > 0 ? TURN_CCW : TURN_CW;
}

/** Arcs in XZ or YZ as chords of at most five degrees: for the picture only. */
function uprightChords(m: ReadMove, from: XYZ, to: XYZ, feed: number): MoveRow[] {
  const c = m.centre!;
  const flat = m.plane === 'XZ' ? 0 : 1;
  const mid = flat === 0 ? c.x : c.y;
  const start = [from[flat]! - mid, from[2] - c.z] as const;
  // XZ turns from Z to X seen from +Y; YZ from Y to Z seen from +X.
  const sense = flat === 0 ? -m.sweep! : m.sweep!;
  const n = Math.max(1, Math.ceil(Math.abs(m.sweep!) / 0.087));
  return Array.from({ length: n }, (_, i) => {
    const t = (i + 1) / n;
    const s = sine(sense * t);
    const k = cosine(sense * t);
    const u = mid + start[0] * k - start[1] * s;
    const z = c.z + start[0] * s + start[1] * k;
    const other = flat === 0 ? from[1] + (to[1] - from[1]) * t : from[0] + (to[0] - from[0]) * t;
    const place: XYZ = t === 1 ? to : flat === 0 ? [u, other, z] : [other, u, z];
    return { kind: FEED, block: m.block, to: place, feed };
  });
}

function columnsOf(rows: readonly MoveRow[], start: XYZ): MoveColumns {
  const m = newColumns(rows.length);
  [m.x[0], m.y[0], m.z[0]] = start;
  for (const [i, r] of rows.entries()) {
    m.kind[i] = r.kind;
    m.block[i] = r.block;
    m.feed[i] = r.feed;
    [m.x[i + 1], m.y[i + 1], m.z[i + 1]] = r.to;
    if (r.centre) [m.cx[i], m.cy[i]] = r.centre;
  }
  return m;
}
