/** The place where cutters are touched off, as the change messages of the moves give it. */
import { MM_PER_INCH, type Mm } from '../../base/units.ts';
import type { Point } from '../../geometry/types.ts';
import type { SheetInput } from './input.ts';

export interface TouchPlace {
  readonly at: Point;
  readonly z: Mm;
}

/** null: lengths come from the table, or the messages name no place on the stock. */
export function touchPlaceOf(input: SheetInput): TouchPlace | null {
  const inch = speaksInches(input);
  for (const move of input.moves.programs.flatMap((p) => p.moves)) {
    const text = move.kind === 'change' ? move.lines.join(' ') : '';
    const found = /at X (-?[\d.]+) Y (-?[\d.]+): Z is (-?[\d.]+)/.exec(text);
    if (found === null) continue;
    const [x, y, z] = found.slice(1).map((v) => Number(v) * (inch ? MM_PER_INCH : 1));
    return { at: { x: x!, y: y! }, z: z! };
  }
  return null;
}

/** Whether the programs, and with them the messages on the control, count in inches. */
export function speaksInches(input: SheetInput): boolean {
  return input.programs.some((p) => /^[^(]*\bG20\b/m.test(p.text));
}
