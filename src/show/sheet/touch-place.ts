/** The place where cutters are touched off. */
import type { Mm } from '../../base/units.ts';
import type { Point } from '../../geometry/types.ts';
import type { SheetInput } from './input.ts';

export interface TouchOff {
  readonly at: Point;
  readonly z: Mm;
}

/** One place serves a whole job. null: lengths come from the table, or no place on the stock is free. */
export function touchPlaceOf(input: SheetInput): TouchOff | null {
  for (const move of input.moves.programs.flatMap((p) => p.moves))
    if (move.kind === 'change' && move.touch !== null) return move.touch;
  return null;
}

/** Whether the programs, and with them the messages on the control, count in inches. */
export function speaksInches(input: SheetInput): boolean {
  return input.programs.some((p) => /^[^(]*\bG20\b/m.test(p.text));
}
