/** Screw heads are in the way from the block at which the screws are fitted. */
import type { Mm } from '../../base/units.ts';
import { nearestOn } from '../../geometry/measure/segment.ts';
import type { Point } from '../../geometry/types.ts';
import { counterboreFor } from '../../trade/threads/heads.ts';
import { ROUNDING } from '../limits.ts';
import { eventsOf } from '../program/events.ts';
import type { Findings } from '../report/findings.ts';
import type { Stroke } from '../strokes/stroke.ts';
import type { HoleSpace } from '../wanted/opening.ts';
import type { CheckedSetUp } from '../work.ts';

/** Air kept round a head: it stands where the hole lets it. */
const HEAD_AIR: Mm = 0.5;

interface HeadInTheWay {
  readonly at: Point;
  readonly radius: Mm;
  readonly top: Mm;
  readonly from: number;
  readonly hole: HoleSpace;
}

export function checkScrewHeads(work: CheckedSetUp, out: Findings): void {
  const heads = headsOf(work, out);
  if (heads.length === 0) return;
  for (const s of work.strokes) {
    for (const h of heads) if (s.index >= h.from) checkHead(s, h, out);
  }
}

function headsOf(work: CheckedSetUp, out: Findings): HeadInTheWay[] {
  const fitted = eventsOf(work).flatMap((e) =>
    e.event.kind === 'screws' ? e.event.holes.map((hole) => ({ hole, from: e.stroke })) : [],
  );
  if (fitted.length === 0) return [];
  const { job } = work;
  const thread = work.programs[0]?.head.hold?.thread ?? (job.hold.by === 'screws' ? job.hold.thread : null);
  const row = thread === null ? undefined : counterboreFor(thread.split('x')[0]!.replace(/ /g, ''));
  if (row?.headDiameter == null || row.headHeight === null) {
    out.doubt('screw heads', `no head size is known for ${thread ?? 'the screws'}`);
    return [];
  }
  const { headDiameter, headHeight } = row;
  return work.wanted.parts.flatMap((p) =>
    p.holes.flatMap((hole) =>
      fitted
        .filter((f) => f.hole === hole.hole.index)
        .map((f) => ({ at: hole.at, radius: headDiameter / 2, top: seatOf(hole) + headHeight, from: f.from, hole })),
    ),
  );
}

/** Height of the face that the head bears on. A countersunk head ends at the top face, so its seat is its height lower. */
function seatOf(space: HoleSpace): Mm {
  const { counterbore } = space.hole;
  return counterbore === null ? 0 : -counterbore.depth;
}

function checkHead(s: Stroke, h: HeadInTheWay, out: Findings): void {
  const gap = nearestOn(s.path, h.at).distance - h.radius;
  for (const b of s.tool.bodies) {
    if (s.low + b.from >= h.top + HEAD_AIR - ROUNDING || gap - b.radius >= HEAD_AIR - ROUNDING) continue;
    const found = `the ${b.name} of cutter ${s.tool.number} meets the screw in hole ${h.hole.hole.index + 1} of part ${h.hole.part + 1}`;
    const at = [h.at.x, h.at.y, s.low] as const;
    const wanted = `${HEAD_AIR} mm of air, or above the head, z ${h.top.toFixed(2)}`;
    const remedy = 'raise the move or leave that screw out';
    out.fault({ code: 'screw-hit', at: { program: s.program, block: s.block, at }, found, wanted, remedy });
    return;
  }
}
