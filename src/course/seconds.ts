/** Time of programs that need not be written. */
import type { Second } from '../base/units.ts';
import { pathTimes } from '../mechanics/cutting/time.ts';
import type { Machine } from '../part/part.ts';
import type { Moves } from '../paths/moves.ts';
import { type CourseStroke, strokesOf } from './strokes.ts';

/** Of all programs as the course reckons them: dwells counted, cutter changes and stops not. */
export function secondsOf({ programs }: Moves, machine: Machine): Second {
  return programs.reduce((sum, p) => sum + total(timesOf(strokesOf(p, null, machine), machine)), 0);
}

/** By stroke. The machine comes to rest at every corner, as exact-path mode asks for at worst. */
export function timesOf(strokes: readonly CourseStroke[], machine: Machine): Float64Array {
  const times = pathTimes(strokes, { acceleration: machine.acceleration, blend: 0 });
  return times.map((t, i) => t + strokes[i]!.dwell);
}

function total(times: Float64Array): Second {
  return times.reduce((sum, t) => sum + t, 0);
}
