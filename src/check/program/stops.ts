/** Stops that hands need: to fit screws or move a clamp, and to change the cutter from one program to the next. */
import type { Findings } from '../report/findings.ts';
import type { ReadProgram } from './reading.ts';

export function checkStops(programs: readonly ReadProgram[], out: Findings): void {
  for (const [i, p] of programs.entries()) {
    checkEvents(p, out);
    const before = programs[i - 1];
    if (before !== undefined) checkFitted(p, before, out);
  }
}

/** What the head says is done by hand at a block needs the machine to stand there. */
function checkEvents(p: ReadProgram, out: Findings): void {
  for (const [i, event] of p.head.events.entries()) {
    if (p.stands[i]) continue;
    const found = event.kind === 'screws' ? 'screws are said to be fitted here' : 'a clamp is said to be moved here';
    const wanted = 'a stop, M0, between the last move and this block';
    const remedy = 'write M0 before it';
    out.fault({ code: 'stop-missing', at: { program: p.index, block: event.block }, found, wanted, remedy });
  }
}

/** A program for one cutter calls it by no T word: after a program with another, it must stop for it to be fitted and touched off. */
function checkFitted(p: ReadProgram, before: ReadProgram, out: Findings): void {
  const [cutter] = p.head.cutters;
  const last = before.head.cutters.at(-1);
  if (!p.used.has(null) || cutter === undefined || last === undefined || cutter.number === last.number) return;
  if (p.firstCut === null || p.stopsFirst) return;
  const found = `cutter ${cutter.number} cuts, and cutter ${last.number} of the program before may still be in the spindle`;
  const wanted = 'a stop, M0, to fit and touch off the cutter before its first cut';
  const remedy = 'write M0 before it';
  out.fault({ code: 'stop-missing', at: { program: p.index, block: p.firstCut }, found, wanted, remedy });
}
