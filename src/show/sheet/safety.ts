/** Cautions, defaults taken, and what the check proved and did not prove. */
import type { Problem } from '../../base/problem.ts';
import { esc } from '../markup/element.ts';
import { list, para, sentence, table } from '../markup/html.ts';
import { cautionsFor } from '../page/data/cautions.ts';
import { withinWords } from '../page/data/proof-words.ts';
import { inProse, type Units } from './figures.ts';
import type { SheetInput } from './input.ts';

/** The usual ones, then those of the material and of the way of holding. */
export function usualCautions(input: SheetInput): string {
  return list(cautionsFor(input.job, input.holding).map(esc));
}

export const SHORT_CAUTION =
  'Eyes covered, guards on, no gloves at a turning spindle. Try every clamp by hand. Run once above the work with the spindle off and a finger on the stop; first part at reduced feed. All cautions: see “Cautions”.';

export const STATEMENT =
  'This sheet advises. The person at the machine decides, follows the maker’s manual and local rules, and asks someone qualified when unsure.';

/** Cautions of this very job: what was told while planning, and what the check adds. */
export function jobCautions(input: SheetInput, u: Units): string {
  const told = input.told.filter((p) => p.severity === 'caution');
  return list([...told, ...input.report.cautions].map((p) => problemText(p, u)));
}

/** For the first page: the first two of them, in a box, so that a weak holding is not met on a later page only. */
export function cautionBox(input: SheetInput, u: Units): string {
  const all = [...input.told.filter((p) => p.severity === 'caution'), ...input.report.cautions];
  if (all.length === 0) return '';
  const more = all.length > SHOWN_FIRST ? ['and more: see “Cautions for this job”'] : [];
  const shown = all.slice(0, SHOWN_FIRST).map((p) => esc(sentence(inProse(u, p.found))));
  return `<div class="held">CAUTION${list([...shown, ...more])}</div>`;
}

const SHOWN_FIRST = 2;

export function jobNotes(input: SheetInput, u: Units): string {
  const told = input.told.filter((p) => p.severity === 'note');
  return list([...told, ...input.report.notes].map((p) => problemText(p, u)));
}

function problemText(p: Problem, u: Units): string {
  return [p.found, p.remedy]
    .filter((t) => t !== '')
    .map((t) => esc(sentence(inProse(u, t))))
    .join(' ');
}

export function defaultsTaken(input: SheetInput): string {
  if (input.job.defaults.length === 0) return para('None: the job says everything.');
  return list(input.job.defaults.map((d) => esc(sentence(d))));
}

const ERRS: Readonly<Record<'safe' | 'unsafe' | 'none', string>> = {
  safe: 'would refuse a good program',
  unsafe: 'could pass a bad one',
  none: 'exact',
};

export function proofTable(input: SheetInput, u: Units): string {
  const { report } = input;
  const rows = report.proven.map((p) => [
    esc(p.what),
    esc(sentence(inProse(u, p.says))),
    p.within === null ? '' : withinWords(p.what, p.within),
    ERRS[p.errs],
  ]);
  const proven = table(['proven', 'how', '#reckoned to', 'if the check errs it'], rows);
  const open = report.notProven.map(
    (n) => `<span class="mark">Not proven: ${esc(n.what)}.</span> ${esc(sentence(inProse(u, n.why)))}`,
  );
  const faults =
    report.faults.length === 0
      ? 'The programs were read back as text and checked against the job; no fault was found.'
      : `The check found ${report.faults.length} fault${report.faults.length === 1 ? '' : 's'}: these programs are not released.`;
  const none = open.length === 0 ? para('Nothing that the check looks at was left unproven.') : list(open);
  return (
    para(faults) +
    proven +
    none +
    para(
      'The check knows the job’s machine, cutters and stock as stated; it cannot know a worn cutter, a loose clamp or a wrong zero.',
    )
  );
}
