/** CONTRACT: holding, force, power and time along the written program, block by block. */
import type { Mm, Newton, Second, Watt } from '../base/units.ts';

export interface Course {
  readonly programs: readonly ProgramCourse[];
}

export interface ProgramCourse {
  readonly seconds: Second;
  readonly blocks: readonly BlockCourse[];
}

/** One line of the program that moves the machine. */
export interface BlockCourse {
  /** Line number from 1. */
  readonly block: number;
  readonly start: Second;
  readonly seconds: Second;
  /** Peak force on the part, 0 when nothing is cut. */
  readonly force: Newton;
  readonly power: Watt;
  /** Strength over load; null when nothing is cut or the part is whole stock. */
  readonly margin: number | null;
  /** Movement of the edge under the cutter: the greater of its normal and upwards. */
  readonly movement: Mm | null;
  readonly cutterDeflection: Mm;
}
