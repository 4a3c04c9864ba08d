/** The backing under a screw is drilled for its thread: too wide and the thread strips, too narrow and the tap breaks. */
import type { Mm } from '../../base/units.ts';
import { dist } from '../../geometry/measure/point.ts';
import { findThread, tappingHoleRange } from '../../trade/threads/threads.ts';
import { LIMITS, ROUNDING } from '../limits.ts';
import { eventsOf, type Timed } from '../program/events.ts';
import type { Findings } from '../report/findings.ts';
import { isVertical, type Stroke } from '../strokes/stroke.ts';
import type { HoleSpace } from '../wanted/opening.ts';
import type { CheckedSetUp } from '../work.ts';

/** For every screw fitted into a backing plate: the drill that goes deepest there must be one for its thread. */
export function checkBacking(work: CheckedSetUp, out: Findings): void {
  const { job } = work;
  const name = work.programs[0]?.head.hold?.thread ?? (job.hold.by === 'screws' ? job.hold.thread : null);
  const found = name === null ? null : findThread(name);
  if (job.under.kind !== 'plate' || found?.kind !== 'found') return;
  const thread = found.value;
  const { least, most } = tappingHoleRange(thread);
  for (const e of eventsOf(work)) {
    if (e.event.kind !== 'screws') continue;
    const { holes } = e.event;
    const screwed = work.wanted.parts.flatMap((p) => p.holes.filter((h) => holes.includes(h.hole.index)));
    for (const space of screwed) {
      const drilled = deepest(space, work.strokes.range(0, e.stroke), job.stock.min[2] - thread.major);
      const where = `hole ${space.hole.index + 1} of part ${space.part + 1}`;
      if (drilled === undefined) {
        if (work.complete) tellUndrilled(space, e, work, `${where} for the ${thread.name} screw`, out);
        else
          out.doubt(
            `thread of the screw in ${where}`,
            'no hole for it is drilled in the backing by the programs given',
          );
        continue;
      }
      const d = drilled.tool.cutter.diameter;
      if (d >= least - ROUNDING && d <= most + ROUNDING) continue;
      out.fault({
        code: 'backing-hole',
        at: { program: drilled.program, block: drilled.block, at: [space.at.x, space.at.y] },
        found: `the backing under ${where} is drilled ${d.toFixed(2)} mm for the ${thread.name} screw`,
        wanted: `a drill of ${least.toFixed(2)} to ${most.toFixed(2)} mm, a diameter of the screw deep`,
        remedy: 'drill the backing for the thread',
      });
    }
  }
}

function tellUndrilled(space: HoleSpace, e: Timed, work: CheckedSetUp, where: string, out: Findings): void {
  const program = work.programs.find((p) => p.head.events.includes(e.event))?.index ?? 0;
  out.fault({
    code: 'backing-hole',
    at: { program, block: e.event.block, at: [space.at.x, space.at.y] },
    found: `nothing drills the backing under ${where}`,
    wanted: 'a hole for its thread before it is fitted, a diameter of the screw deep',
    remedy: 'drill the backing for the thread',
  });
}

/** The stroke on a hole's axis whose full diameter goes deepest into the backing, below `from`. */
function deepest(space: HoleSpace, strokes: Iterable<Stroke>, from: Mm): Stroke | undefined {
  let best: Stroke | undefined;
  const full = (s: Stroke) => s.low + s.tool.shape.fullAt;
  for (const s of strokes) {
    if (s.rapid || s.tool.cutter.kind !== 'drill' || !isVertical(s) || full(s) > from + ROUNDING) continue;
    if (dist(s.path.a, space.at) > LIMITS.holePlace + ROUNDING) continue;
    if (best === undefined || full(s) < full(best)) best = s;
  }
  return best;
}
