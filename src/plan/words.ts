/** Figures for people, in the units of the job. */
import { short } from '../base/text.ts';
import { MM_PER_INCH, type Mm } from '../base/units.ts';
import type { Point } from '../geometry/types.ts';
import type { Hole, Job } from '../part/part.ts';

/** `4.9 mm`, `0.193 in`. */
export function say(job: Job, length: Mm): string {
  return job.units === 'mm' ? `${short(length)} mm` : `${short(length / MM_PER_INCH, 4)} in`;
}

/** `X 22 Y 15`, program coordinates in the job's units. */
export function sayPlace(job: Job, p: Point): string {
  const unit = job.units === 'mm' ? 1 : MM_PER_INCH;
  const decimals = job.units === 'mm' ? 3 : 4;
  return `X ${short(p.x / unit, decimals)} Y ${short(p.y / unit, decimals)}`;
}

/** `hole 2`, `edge hole 1`: holes of the plate and of the edge are counted apart. */
export function holeName(hole: Hole): string {
  return holeNames([hole]);
}

/** `hole 2`, `holes 2, 5`, `edge hole 1`; all of the plate, or all of the edge. */
export function holeNames(holes: readonly Hole[]): string {
  const which = holes[0]?.fromEdge ? 'edge ' : '';
  return `${which}${holes.length > 1 ? 'holes' : 'hole'} ${holes.map((h) => h.index + 1).join(', ')}`;
}
