/** Lengths that were plainly meant in the other units: told first, because it explains most of what else is found. */
import { MM_PER_INCH, type Mm } from '../base/units.ts';
import { loopBox } from '../geometry/measure/loop.ts';
import type { Loop } from '../geometry/types.ts';
import type { Desk } from './desk.ts';

/**
 * Outside these a part is hardly a plate that is milled (common practice): thinner is foil, which no tab holds; shorter than 12 mm and thinner
 * than half a millimetre together is what a part of some inches comes to; thicker is a block. Too long a part is a fault of its own.
 */
const THINNEST: Mm = 0.25;
const SMALL = { length: 12, thickness: 0.5 };
const THICKEST: Mm = 1.5 * MM_PER_INCH;

export function checkUnits(edge: Loop, thickness: Mm, desk: Desk): void {
  const b = loopBox(edge);
  const length = Math.max(b.maxX - b.minX, b.maxY - b.minY);
  const small = thickness <= THINNEST || (length < SMALL.length && thickness < SMALL.thickness);
  const large = thickness >= THICKEST;
  const other = desk.units === 'mm' ? small && 'inches' : large && 'millimetres';
  if (!other) return;
  desk.caution({
    code: 'units-doubtful',
    at: ['part', 'thickness'],
    found: `the part is ${desk.say(thickness)} thick and ${desk.say(length)} long; are the lengths perhaps in ${other}?`,
    wanted: 'lengths in the units that the file states; mm where it states none',
    remedy: `if they are, write "units": "${desk.units === 'mm' ? 'inch' : 'mm'}" and run again before mending what else is told`,
  });
}
