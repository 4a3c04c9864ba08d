/** What the judgements of one set-up are given. */
import type { Job } from '../part/part.ts';
import type { ReadProgram } from './program/reading.ts';
import type { Shelf } from './strokes/spool.ts';
import type { Strokes } from './strokes/strokes.ts';
import type { WantedParts } from './wanted/wanted.ts';

export interface CheckedSetUp {
  readonly job: Job;
  readonly wanted: WantedParts;
  readonly strokes: Strokes;
  readonly programs: readonly ReadProgram[];
  /** A new place for what does not fit in memory. */
  readonly shelf: () => Shelf;
  /** All programs of the set-up were given and read to their end. */
  readonly complete: boolean;
}
