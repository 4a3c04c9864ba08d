/** The short form of the usual cautions for a program's head; sheet and page carry them all. */
import type { Problem } from '../base/problem.ts';

const USUAL: readonly string[] = [
  'CAUTION: eye protection, guards, no gloves at a turning spindle.',
  'CAUTION: dry run above the work with a finger on the stop; first part at reduced feed.',
];
const LAST = "CAUTION: the machine's manual, local rules and the person at the machine decide.";

/** Found poor in the holding, which is to be known where the program is started, too. */
const FOUND: Readonly<Record<string, string>> = {
  'hold-weak':
    'CAUTION: held weaker than is wanted: read on the sheet by how much, and what would help, before starting.',
  'plate-springs': 'CAUTION: the plate springs under a drill: ease the feed by hand as its point comes through.',
};

/** `told`: what planning and holding had to say. */
export function headCautions(told: readonly Problem[]): readonly string[] {
  const found = Object.entries(FOUND).filter(([code]) => told.some((p) => p.code === code));
  return [
    ...USUAL,
    'CAUTION: the part hangs on what HOLD and TAB say; it is sawn or filed free by hand.',
    ...found.map(([, words]) => words),
    LAST,
  ];
}

/** Of a program for a part that stands on edge. */
export const EDGE_CAUTIONS: readonly string[] = [
  ...USUAL,
  'CAUTION: the part stands between jaws: it must neither slip nor tip; try it by hand.',
  LAST,
];
