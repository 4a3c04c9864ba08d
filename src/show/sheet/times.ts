/** Times, from the course where there is one: accelerations are in it. */
import type { Minute, Second } from '../../base/units.ts';
import type { SheetInput } from './input.ts';

/** Of one operation; null when only the whole is known. */
export function secondsOf({ course, programs }: SheetInput, id: number): Second | null {
  if (course === null) return null;
  let sum = 0;
  for (const [i, p] of programs.entries()) {
    const span = p.operations.find((x) => x.id === id);
    if (span === undefined) continue;
    for (const b of course.programs[i]?.blocks ?? []) {
      if (b.block >= span.from && b.block <= span.to) sum += b.seconds;
    }
  }
  return sum;
}

/** As the plan file gives it. */
export function minutesOf({ course, programs, report }: SheetInput, setup: number): Minute {
  if (course === null) return report.seconds / 60;
  return programs.reduce((sum, p, i) => (p.setup === setup ? sum + course.programs[i]!.seconds / 60 : sum), 0);
}
