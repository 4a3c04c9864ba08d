/** How a cutter gets down into an opening: the best of what there is room for, and why. */
import { short } from '../../base/text.ts';
import type { Mm } from '../../base/units.ts';
import { largestInscribed } from '../../geometry/inscribed.ts';
import { loopLength } from '../../geometry/measure/loop.ts';
import { offsetRegion } from '../../geometry/offset/offset.ts';
import type { Region } from '../../geometry/types.ts';
import type { Cutter } from '../../part/part.ts';
import { LEAST_RAMP, LEAST_ROUND_SHARE, SLOT_FIRST_SHARE } from '../plan.ts';

export interface WayDown {
  readonly kind: 'helix' | 'ramp' | 'plunge';
  readonly reason: string;
}

/** A cutter exactly as wide as the opening enters: it is looked at as if it were this much smaller, or its path would have no width. */
export const NO_WIDTH: Mm = 5e-4;

export function entryInto(area: Region, cutter: Cutter, allowance: Mm): WayDown {
  const r = cutter.diameter / 2;
  const widest = largestInscribed(area, 0.01 * r);
  const room = widest.kind === 'circle' ? widest.radius - r - allowance : 0;
  const helix = { kind: 'helix', reason: 'goes down on a helix' } as const;
  if (room > SLOT_FIRST_SHARE * r) return helix;
  const paths = offsetRegion(area, -(r + allowance - NO_WIDTH));
  const longest = paths.kind === 'regions' ? Math.max(...paths.regions.map((p) => loopLength(p.outer))) : 0;
  if (longest >= LEAST_RAMP * r) {
    return {
      kind: 'ramp',
      reason: `goes down a ramp along its path, a slot first, and back along the other wall: only ${short(Math.max(0, room), 2)} mm beside it`,
    };
  }
  if (room > LEAST_ROUND_SHARE * r) return helix;
  return { kind: 'plunge', reason: 'goes straight down: there is no room for a helix nor a path for a ramp' };
}

/** What is told of it. `start`: a drill that opens the middle before. */
export function entryReason(area: Region, cutter: Cutter, allowance: Mm, start: Cutter | null): string {
  const entry = entryInto(area, cutter, allowance);
  if (entry.kind !== 'plunge') return entry.reason;
  const into = start === null ? '; the cutter cuts at its centre' : ` into a start hole of ${short(start.diameter)} mm`;
  return `${entry.reason}${into}`;
}

/** The share of a cutter that a start hole must open: the outer teeth take the rest, under a third of the whole end. */
const START_SHARE = 0.85;
/** The start hole is this much narrower than the opening at least: it may wander. */
const START_ROOM: Mm = 0.1;

export function opensFor(start: Cutter | null, cutter: Cutter): boolean {
  return start !== null && start.diameter >= START_SHARE * cutter.diameter;
}

/** The widest drill that leaves the bore's wall alone and reaches its depth. */
export function startDrill(drills: readonly Cutter[], bore: Mm, depth: Mm): Cutter | null {
  const fit = drills.filter((d) => d.diameter <= bore - 2 * START_ROOM && d.fluteLength >= depth);
  return fit.sort((a, b) => b.diameter - a.diameter)[0] ?? null;
}

/** Made to cut with the middle of its end. */
export function cutsDown(cutter: Cutter): boolean {
  return cutter.centreCutting || cutter.kind === 'slot drill';
}
