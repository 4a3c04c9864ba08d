/** What the person is told who taps by hand. */

import type { Hole, Job } from '../../part/part.ts';
import type { PlanContext } from '../context.ts';
import { holeTargets } from '../context.ts';
import type { StopReason } from '../plan.ts';
import { holeNames, say, sayPlace } from '../words.ts';

/** At each hole, with the spindle standing over it, the tap held in its chuck. */
export function handTapLines(job: Job, holes: readonly Hole[]): readonly string[] {
  return [
    `Tap ${threadsOf(job, holes)}: the spindle stands over it, off`,
    'Brush the hole clean; oil the tap as the metal asks',
    'Leave the table where it is: lower the tap by quill or jog',
    'Turn the chuck by hand for the first two or three turns',
    'Finish with a wrench, half a turn back for each turn in',
    'Wind it right out and raise it clear before going on',
  ];
}

/** A stop of its own where the job lists no tap: the holes are told by their places. */
export function tapStop(context: PlanContext, holes: readonly Hole[]): StopReason {
  const { job } = context;
  const places = holes.flatMap((h) => holeTargets(context, [h]).map(({ at }) => sayPlace(job, at)));
  return {
    kind: 'tap',
    lines: [
      `Tap ${threadsOf(job, holes)} now, while the part is whole: ${places.join('; ')}`,
      'Start the tap in the spindle, turned by hand over the hole, so that it stands square; wind it right out',
      'Brush the swarf away before going on',
    ],
  };
}

/** For the sheet, where the thread is cut by hand. */
export function tapBench(job: Job, hole: Hole): string {
  return `Tap ${threadsOf(job, [hole])} by hand at the stop, while the part is still in the plate`;
}

function threadsOf(job: Job, holes: readonly Hole[]): string {
  const names = new Map<string, Hole[]>();
  for (const h of holes) {
    if (h.make.kind !== 'tap') continue;
    const deep = h.depth === null ? 'through' : `${say(job, h.depth)} of full thread`;
    const key = `${h.make.thread}, ${deep}`;
    names.set(key, [...(names.get(key) ?? []), h]);
  }
  return [...names].map(([thread, group]) => `${holeNames(group)} ${thread}`).join('; ');
}
