/** What a job may ask for and this version does not cut: refused plainly, never left out silently. */
import { fault, type Problem } from '../base/problem.ts';
import type { Job } from '../part/part.ts';

export function notYet(job: Job): readonly Problem[] {
  const { part } = job;
  const asked: [boolean, string, string, string][] = [
    [
      part.edgeHoles.length > 0,
      'part.edgeHoles',
      'holes from the edge',
      'leave them out and drill them in a second set-up by hand',
    ],
  ];
  return asked
    .filter(([is]) => is)
    .map(([, path, what, remedy]) =>
      fault('not-yet', `${what} are asked for, which this version does not do yet`, 'a job without them', remedy, {
        path,
      }),
    );
}
