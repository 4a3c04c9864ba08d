/** Scales of ISO 5455, largest first: enlargements, full size, reductions. */
import type { Mm } from '../../../base/units.ts';

export interface DrawingScale {
  readonly factor: number;
  /** As written in a title block. */
  readonly text: string;
}

export const SCALES: readonly DrawingScale[] = [
  { factor: 10, text: '10 : 1' },
  { factor: 5, text: '5 : 1' },
  { factor: 2, text: '2 : 1' },
  { factor: 1, text: '1 : 1' },
  { factor: 1 / 2, text: '1 : 2' },
  { factor: 1 / 5, text: '1 : 5' },
  { factor: 1 / 10, text: '1 : 10' },
  { factor: 1 / 20, text: '1 : 20' },
];

/** The largest scale at which a thing of this size fits in the room on paper; the smallest there is when none does. */
export function scaleFor(size: readonly [Mm, Mm], room: readonly [Mm, Mm]): DrawingScale {
  return SCALES.find((s) => size[0] * s.factor <= room[0] && size[1] * s.factor <= room[1]) ?? SCALES.at(-1)!;
}
