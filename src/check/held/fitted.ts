/**
 * Screws hold only where the job asks for them: nothing else states that there is a thread to screw into. All that it asks for are fitted, and
 * while the plate is whole: a part that hangs on its slot's last metal is drilled, tapped and screwed by hand, and moves.
 */

import { WRITTEN } from '../limits.ts';
import { eventsOf, type Timed } from '../program/events.ts';
import type { Findings } from '../report/findings.ts';
import { runsBeside } from '../strength/pushes.ts';
import { isVertical, type Stroke } from '../strokes/stroke.ts';
import { gapTo } from '../wanted/clear.ts';
import type { WantedPart } from '../wanted/wanted.ts';
import type { CheckedSetUp } from '../work.ts';

export function checkFitted(work: CheckedSetUp, out: Findings): void {
  const { hold } = work.job;
  const asked = hold.by === 'screws' ? hold.through : [];
  const events = eventsOf(work).filter((e) => e.event.kind === 'screws');
  for (const e of events) tellUnasked(e, asked, work, out);
  if (hold.by !== 'screws' || !work.complete) return;
  const fitted = new Set(events.flatMap(holesOf));
  const missing = asked.filter((h) => !fitted.has(h));
  const head = work.programs[0]?.head ?? null;
  if (missing.length > 0) {
    const found = `no screws are fitted in holes ${missing.join(', ')}`;
    tell(out, found, `screws in holes ${asked.join(', ')}, counted from 0`, 0, head?.hold?.block ?? 1);
    return;
  }
  const first = firstOfProfile(work);
  if (first === undefined) return;
  const late = events.find((e) => e.stroke > first.index && holesOf(e).some((h) => asked.includes(h)));
  if (late === undefined) return;
  const found = `screws are fitted after the profile is begun at block ${first.block}`;
  tell(out, found, 'fitted before, while the plate is whole', programOf(late, work), late.event.block);
}

function tellUnasked(e: Timed, asked: readonly number[], work: CheckedSetUp, out: Findings): void {
  const holes = holesOf(e).filter((h) => !asked.includes(h));
  if (holes.length === 0) return;
  const want = asked.length === 0 ? 'a job that asks for screws' : `screws in holes ${asked.join(', ')}`;
  tell(out, `screws fitted in holes ${holes.join(', ')}, counted from 0`, want, programOf(e, work), e.event.block);
}

function holesOf({ event }: Timed): readonly number[] {
  return event.kind === 'screws' ? event.holes : [];
}

function programOf(e: Timed, work: CheckedSetUp): number {
  return work.programs.find((p) => p.head.events.includes(e.event))?.index ?? 0;
}

function tell(out: Findings, found: string, want: string, program: number, block: number): void {
  const wanted = want;
  const remedy = 'make the program again from this job';
  out.fault({ code: 'head-disagrees', at: { program, block }, found, wanted, remedy });
}

/** A cutter in a pocket that is open at the edge runs out beside it too, and may do so before. */
function firstOfProfile(work: CheckedSetUp): Stroke | undefined {
  const { parts } = work.wanted;
  for (const s of work.strokes) {
    if (s.rapid || s.low >= -WRITTEN || isVertical(s) || s.tool.cutter.kind === 'chamfer cutter') continue;
    if (parts.some((p) => runsBeside(p, s) && !runsInPocket(p, s))) return s;
  }
  return undefined;
}

function runsInPocket(part: WantedPart, s: Stroke): boolean {
  const reach = 2 * s.tool.shape.radius;
  return part.pockets.some((p) => p.open !== null && gapTo(p.outer, s.path, s.box, reach) < reach);
}
