/** The strokes of one set-up against what the job wants: rapids, walls, tabs. Reads like the list of what is proved. */
import type { Job } from '../part/part.ts';
import type { ReadProgram } from './check.ts';
import type { Findings } from './findings.ts';
import { checkHolePlaces } from './holes.ts';
import { checkRapids } from './rapids.ts';
import { checkWall } from './reached.ts';
import type { Stroke } from './stroke.ts';
import { checkTabs } from './tabs.ts';
import { wallsOf } from './walls.ts';
import type { Wanted } from './wanted/wanted.ts';

export interface Work {
  readonly job: Job;
  readonly wanted: Wanted;
  readonly strokes: readonly Stroke[];
  readonly programs: readonly ReadProgram[];
  /** All programs of the set-up were given and read to their end. */
  readonly complete: boolean;
}

export function checkWork(work: Work, out: Findings): void {
  const { job, wanted, strokes, complete } = work;
  const head = work.programs[0]?.head ?? null;
  checkRapids(strokes, job, out);
  const states = wallsOf(job, wanted, head).map((w) => checkWall(w, strokes, complete, out).state);
  if (states.every((s) => s === 'reached')) {
    out.prove(
      'edge reached',
      0.001,
      'safe',
      'every edge and wall has a cut within the limit at its foot, by exact intervals along it; declared tabs and inside corners that no cutter in use enters are left out',
    );
  }
  checkHolePlaces(strokes, wanted, out);
  checkTabs(head?.tabs ?? [], strokes, job.part.thickness, complete, out);
}
