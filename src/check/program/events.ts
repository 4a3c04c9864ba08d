/** The events that the heads state, among the strokes. */

import type { Stroke } from '../strokes/stroke.ts';
import { firstStroke } from '../strokes/strokes.ts';
import type { CheckedSetUp } from '../work.ts';
import type { HeadEvent } from './head.ts';

export interface Timed {
  readonly stroke: number;
  readonly event: HeadEvent;
}

/** Events with the number of strokes made before them. */
export function eventsOf(work: CheckedSetUp): Timed[] {
  return work.programs.flatMap((p) =>
    p.head.events.map((event) => {
      const after = (s: Stroke) => s.program > p.index || (s.program === p.index && s.block > event.block);
      return { stroke: firstStroke(work.strokes, after)?.index ?? work.strokes.length, event };
    }),
  );
}
