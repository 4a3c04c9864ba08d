/** The place where cutters are touched off. */
import type { Mm } from '../../base/units.ts';
import type { Point } from '../../geometry/types.ts';
import { placeText, type Units, unitsOf } from './figures.ts';
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

/** In which the programs, and with them the messages on the control, count. */
export function programUnits(input: SheetInput): Units {
  return unitsOf(input.programs.some((p) => /^[^(]*\bG20\b/m.test(p.text)) ? 'inch' : 'mm');
}

/** The place in the sheet's units; where the messages on the control say it in others, in those as well. */
export function touchWords(input: SheetInput, u: Units, { at }: TouchOff): string {
  const said = programUnits(input);
  if (said.name === u.name) return placeText(u, at);
  return `${placeText(u, at)} ${u.name} (X ${said.size(at.x)} Y ${said.size(at.y)} ${said.name} on the control)`;
}
