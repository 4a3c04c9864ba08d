/** What a job may ask for and this version does not cut: refused plainly, never left out silently. */
import { fault, type Problem } from '../base/problem.ts';
import type { Job } from '../part/part.ts';

export function notYet(job: Job): readonly Problem[] {
  const { part, stock } = job;
  const asked: [boolean, string, string, string][] = [
    [part.pockets.length > 0, 'part.pockets', 'pockets', 'leave the pockets out and mill them by hand'],
    [
      part.edgeHoles.length > 0,
      'part.edgeHoles',
      'holes from the edge',
      'leave them out and drill them in a second set-up by hand',
    ],
    [part.chamfer > 0, 'part.chamfer', 'chamfered edges', 'leave it out and break the edges with a file'],
    [stock.above > 0, 'stock.above', 'facing of stock above the part', 'use plate of the finished thickness'],
    [job.finish.stopToMeasure, 'finish.stopToMeasure', 'a stop for measuring before the last pass', 'leave it out'],
    [job.machine.tapping === 'machine', 'machine.tapping', 'tapping by machine', 'set it to "hand"'],
    [part.holes.some((h) => h.make.kind === 'bore'), 'part.holes', 'bored holes', 'drill and ream instead'],
    [
      part.holes.some((h) => h.countersink !== null),
      'part.holes',
      'countersinks',
      'leave them out and countersink by hand',
    ],
    [
      part.holes.some((h) => h.counterbore !== null),
      'part.holes',
      'counterbores',
      'leave them out and counterbore by hand',
    ],
    [job.hold.by === 'screws', 'hold', 'holding by screws', 'ask for "auto" or tabs'],
    [job.hold.by === 'glue', 'hold', 'holding by glue', 'ask for "auto" or tabs'],
    [job.hold.by === 'stub', 'hold', 'holding on a stub', 'ask for "auto" or tabs'],
  ];
  return asked
    .filter(([is]) => is)
    .map(([, path, what, remedy]) =>
      fault('not-yet', `${what} are asked for, which this version does not do yet`, 'a job without them', remedy, {
        path,
      }),
    );
}
