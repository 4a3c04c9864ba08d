/** CONTRACT: what the check found. Places are line numbers from 1 and program coordinates in millimetres. */
import type { Problem } from '../base/problem.ts';
import type { Mm, Second } from '../base/units.ts';
import type { ProofName } from './report/codes.ts';

export interface Report {
  /** Any fault: the program is not released. */
  readonly faults: readonly Finding[];
  readonly cautions: readonly Finding[];
  readonly notes: readonly Finding[];
  readonly proven: readonly Proof[];
  /** What could not be judged and why (some programs absent, G64 in force, no job given). */
  readonly notProven: readonly { readonly what: string; readonly why: string }[];
  readonly envelope: { readonly min: readonly [Mm, Mm, Mm]; readonly max: readonly [Mm, Mm, Mm] } | null;
  readonly cutters: readonly number[];
  readonly seconds: Second;
}

export interface Finding<Code extends string = string> extends Problem {
  readonly code: Code;
  /** Index into the programs given. */
  readonly program: number;
  /** Line number from 1; 0 when it concerns the whole program. */
  readonly block: number;
  /** Size of the fault where it has one: depth of a gouge, width of what is left. */
  readonly size?: Mm;
}

export interface Proof {
  readonly what: ProofName;
  /** To within this; null where the statement is exact or not a length. */
  readonly within: Mm | null;
  /** Which way an error of the check would fall: it would refuse a good program, or pass a bad one. */
  readonly errs: 'safe' | 'unsafe' | 'none';
  readonly says: string;
}
