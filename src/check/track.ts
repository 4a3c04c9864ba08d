/** Where the axis goes, without a cutter: what a program without a job can still be measured by. */
import type { Mm, MmPerMin } from '../base/units.ts';
import type { Segment } from '../geometry/types.ts';
import type { CanonicalMove } from './language/canonical.ts';
import { pathsOf } from './stroke.ts';

export interface Track {
  readonly path: Segment;
  readonly za: Mm;
  readonly zb: Mm;
  readonly rapid: boolean;
  readonly feed: MmPerMin;
  /** Exact path: the control stops at corners that are not smooth. */
  readonly exact: boolean;
}

export function tracksOf(moves: readonly CanonicalMove[]): Track[] {
  return moves.flatMap((m) =>
    pathsOf(m).map((p) => ({
      ...p,
      rapid: m.kind === 'rapid',
      feed: m.kind === 'rapid' ? 0 : 'feed' in m ? (m.feed ?? 0) : 0,
      exact: m.pathControl !== 'continuous',
    })),
  );
}
