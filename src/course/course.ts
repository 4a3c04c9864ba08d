/** CONTRACT: holding, force, power and time along the written program, block by block. */
import type { Hertz, Mm, Newton, Second, Watt } from '../base/units.ts';

export interface Course {
  readonly programs: readonly ProgramCourse[];
  /** Least margin over what is wanted of it, with the block and the place; null when nothing loads the holding. */
  readonly margin: (WorstOnEdge & { readonly least: number; readonly wanted: number }) | null;
  /** Most movement of the edge, in its normal or upwards, over what is wanted. */
  readonly movement: (WorstOnEdge & { readonly most: Mm; readonly wanted: Mm; readonly upwards: boolean }) | null;
  /** Greatest bending of the cutter on the edge. */
  readonly cutterDeflection: Mm;
  /** Movement in the normal and the cutter's bending together, over what is wanted, at its greatest. */
  readonly together: number;
  /** Lowest natural frequencies of frame and part on its last holding. */
  readonly modes: readonly Hertz[];
  /** Rhythm of the teeth against the lowest mode, an operation each, and the chatter screen. */
  readonly rhythm: readonly Rhythm[];
}

export interface WorstOnEdge {
  /** Index into the programs; line number from 1. */
  readonly program: number;
  readonly block: number;
  /** On the edge, program coordinates. */
  readonly at: readonly [Mm, Mm];
  /** What holds the part then: `cut through`, `on 0.80 mm of metal below`. */
  readonly state: string;
}

export interface Rhythm {
  readonly operation: number;
  /** Of the teeth. */
  readonly passing: Hertz;
  /** Of its multiples the one that swings the lowest mode most, and by how much. */
  readonly harmonic: number;
  readonly magnification: number;
  /** A screen, never a proof. */
  readonly chatter: 'low' | 'medium' | 'high';
  readonly says: string;
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
  /** What is wanted of the margin there; where several places are met, of the one that is weakest against what is wanted. */
  readonly wantedMargin: number | null;
  /** Movement of the edge under the cutter: the greater of its normal and upwards. */
  readonly movement: Mm | null;
  readonly wantedMovement: Mm | null;
  readonly cutterDeflection: Mm;
}
