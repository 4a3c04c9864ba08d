/** Where the axis goes, without a cutter: what a program without a job can still be measured by. */
import type { Mm, MmPerMin } from '../../base/units.ts';
import type { Segment } from '../../geometry/types.ts';
import type { CanonicalMove } from '../language/canonical.ts';
import { pathsOf } from './stroke.ts';

export interface AxisTrack {
  readonly path: Segment;
  readonly za: Mm;
  readonly zb: Mm;
  readonly rapid: boolean;
  readonly feed: MmPerMin;
  /** Exact path: the control stops at corners that are not smooth. */
  readonly exact: boolean;
}

export function tracksOf(m: CanonicalMove): AxisTrack[] {
  const feed = m.kind === 'feed' || m.kind === 'arc' || m.kind === 'probe' ? (m.feed ?? 0) : 0;
  const exact = m.pathControl !== 'continuous';
  // Written out: spreading takes ten times as long, and a program is millions of these.
  return pathsOf(m).map(({ path, za, zb }) => ({ path, za, zb, rapid: m.kind === 'rapid', feed, exact }));
}
