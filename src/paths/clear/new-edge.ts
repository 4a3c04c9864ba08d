/** The part of a grown area's edge that lies in stock. */
import type { Mm } from '../../base/units.ts';
import { RegionEdge } from '../../geometry/measure/approach.ts';

import { pointAt, segmentLength, subSegment } from '../../geometry/measure/segment.ts';
import { offsetRegion } from '../../geometry/offset/offset.ts';
import type { Chain, Loop, Point, Region, Segment } from '../../geometry/types.ts';

export interface CoreStretch {
  readonly chain: Chain;
  /** Once round: it may be begun anywhere. */
  readonly closed: boolean;
}

/** Less than this beyond what is open is no stock. */
const OPEN: Mm = 5e-4;
/** Open gaps shorter than this share of rho are run through, not jumped. */
const GAP_SHARE = 0.5;
const LOOK: Mm = 0.25;

/**
 * Loops at `rho` round the new core, cut down to where they leave what lies within `rho` of the old. Inside is on their left.
 * `opened`: how far a place lies outside what had been opened before any core.
 */
export function newEdge(
  core: readonly Region[],
  old: readonly Region[],
  rho: Mm,
  opened: (p: Point) => Mm = () => Infinity,
): CoreStretch[] {
  const olds = old.map((b) => new RegionEdge(b));
  return core.flatMap((region, i) => {
    const made = offsetRegion(region, rho);
    if (made.kind !== 'regions') return [];
    const others = core.filter((_, k) => k !== i).map((b) => new RegionEdge(b));
    const beyond = (p: Point): Mm => {
      const fromOld = Math.min(...olds.map((e) => e.signedDistance(p))) - rho;
      // Inside what another part of the core opens: not an edge at all.
      if (others.some((e) => e.signedDistance(p) < rho - OPEN)) return -1;
      return Math.min(fromOld, opened(p));
    };
    return made.regions.flatMap((r) => [r.outer, ...r.holes].flatMap((loop) => stretches(loop, beyond, rho)));
  });
}

interface CorePiece {
  readonly segment: Segment;
  readonly fresh: boolean;
}

/** `beyond`: how far a place lies outside what is open. */
export function stretches(loop: Loop, beyond: (p: Point) => Mm, rho: Mm): CoreStretch[] {
  const pieces = bridged(
    loop.flatMap((s) => split(s, beyond)),
    GAP_SHARE * rho,
  );
  if (pieces.length === 0 || pieces.every((p) => !p.fresh)) return [];
  if (pieces.every((p) => p.fresh)) return [{ chain: pieces.map((p) => p.segment), closed: true }];
  const first = pieces.findIndex((p, i) => p.fresh && !pieces[(i + pieces.length - 1) % pieces.length]!.fresh);
  const out: Segment[][] = [];
  let open = false;
  for (let k = 0; k < pieces.length; k++) {
    const p = pieces[(first + k) % pieces.length]!;
    if (p.fresh && !open) out.push([]);
    if (p.fresh) out[out.length - 1]!.push(p.segment);
    open = p.fresh;
  }
  return out.map((chain) => ({ chain, closed: false }));
}

/** Short open gaps between fresh pieces count as fresh. */
function bridged(pieces: readonly CorePiece[], gap: Mm): CorePiece[] {
  const n = pieces.length;
  const out = pieces.map((p) => ({ ...p }));
  if (!out.some((p) => p.fresh)) return out;
  for (let i = 0; i < n; i++) {
    if (out[i]!.fresh || !out[(i + n - 1) % n]!.fresh) continue;
    const run: number[] = [];
    let length = 0;
    for (let k = i; !out[k % n]!.fresh && run.length < n; k++) {
      run.push(k % n);
      length += segmentLength(out[k % n]!.segment);
    }
    if (length < gap) for (const k of run) out[k] = { ...out[k]!, fresh: true };
  }
  return out;
}

/** A segment parted where it passes from open to stock and back. */
function split(s: Segment, beyond: (p: Point) => Mm): CorePiece[] {
  const length = segmentLength(s);
  const n = Math.max(2, Math.ceil(length / LOOK));
  const fresh = (t: number) => beyond(pointAt(s, t)) > OPEN;
  const out: CorePiece[] = [];
  let from = 0;
  let state = fresh(0.5 / n);
  for (let k = 1; k < n; k++) {
    const t = (k + 0.5) / n;
    const now = fresh(t);
    if (now === state) continue;
    const at = change(fresh, (k - 0.5) / n, t, state);
    out.push({ segment: subSegment(s, from, at), fresh: state });
    from = at;
    state = now;
  }
  out.push({ segment: from === 0 ? s : subSegment(s, from, 1), fresh: state });
  return joinEnds(out);
}

/** Pieces share their ends bit for bit. */
function joinEnds(pieces: readonly CorePiece[]): CorePiece[] {
  return pieces.map((p, i) => (i === 0 ? p : { ...p, segment: { ...p.segment, a: pieces[i - 1]!.segment.b } }));
}

function change(fresh: (t: number) => boolean, lo: number, hi: number, state: boolean): number {
  let [a, b] = [lo, hi];
  for (let i = 0; i < 30; i++) {
    const m = (a + b) / 2;
    if (fresh(m) === state) a = m;
    else b = m;
  }
  return (a + b) / 2;
}
