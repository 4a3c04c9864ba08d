/** How finely a proof was reckoned, in words that page and sheet share. */
import { short } from '../../../base/text.ts';
import type { Mm } from '../../../base/units.ts';

/** Cells of a grid say how finely the plate is looked over; elsewhere it is how exactly a distance is known. */
export function withinWords(what: string, within: Mm): string {
  const mm = `${short(within, 6)} mm`;
  return what === 'faces and floors' || what === 'still held' ? `cells of ${mm}` : `to ${mm}`;
}
