/** What the head says of stubs against the job: one a part, at the place, in the direction and of the width asked for, no longer than it must be. */
import { fixed } from '../../base/text.ts';
import { type Mm, toDeg } from '../../base/units.ts';
import { loopLength, pointAlong, positionOf } from '../../geometry/measure/loop.ts';
import { dist } from '../../geometry/measure/point.ts';
import { placePoint } from '../../geometry/measure/transform.ts';
import type { CutterKind, HoldRequest, Job } from '../../part/part.ts';
import { TAB_DIRECTION_DEG, WRITTEN } from '../limits.ts';
import { faces, onNoTab, type Say } from '../wanted/on-edge.ts';
import type { WantedPart, WantedParts } from '../wanted/wanted.ts';
import type { Head, HeadStub } from './head.ts';

export function checkStubHead(head: Head, job: Job, wanted: WantedParts, say: Say): void {
  if (head.hold?.by !== 'stub') return;
  for (const part of wanted.parts) {
    const mine = head.stubs.filter((s) => s.part === part.index);
    if (mine.length !== 1) say(head.hold.block, `${mine.length} stubs on part ${part.index + 1}`, 'one stub a part');
  }
  const widest = Math.max(0, ...head.cutters.filter((c) => MILLS.has(c.kind)).map((c) => c.diameter));
  for (const stub of head.stubs) {
    const part = wanted.parts[stub.part];
    if (part === undefined) {
      say(stub.block, `a stub on part ${stub.part + 1}`, `parts 1 to ${job.places.length}`, stub.at);
      continue;
    }
    checkPlace(stub, part, job, say);
    if (job.hold.by === 'stub') checkWish(stub, part, job.hold, say);
    // Beside the waist stand the rounds of the cutter and the room for coming on and leaving, at most along half a circle.
    const most = (Math.PI / 2) * (stub.width + widest + 2 * Math.SQRT2 * job.finish.allowance) + ROUND;
    if (widest > 0 && stub.footprint > most) {
      say(
        stub.block,
        `the stub of part ${stub.part + 1} leaves ${fixed(stub.footprint, 3)} mm of edge`,
        `no more than ${fixed(most, 3)}`,
        stub.at,
      );
    }
  }
}

const MILLS: ReadonlySet<string> = new Set<CutterKind>(['end mill', 'slot drill']);
/** Rounding of five written figures. */
const ROUND: Mm = 0.01;

function checkPlace(stub: HeadStub, part: WantedPart, job: Job, say: Say): void {
  const name = `the stub of part ${stub.part + 1}`;
  const spot = positionOf(part.loop, stub.at);
  if (spot === undefined || spot.distance > 0.01) {
    say(stub.block, `${name} does not stand on the edge`, 'a place on the edge', stub.at);
    return;
  }
  if (!(stub.width > 0 && stub.footprint >= stub.width - WRITTEN))
    say(stub.block, `${name} without a size`, 'a width above zero and a footprint not below it', stub.at);
  const { normal, off } = faces(part, spot.s, stub.directionDeg);
  if (off > TAB_DIRECTION_DEG) {
    const found = `${name} points to ${fixed(stub.directionDeg, 2)} degrees`;
    say(stub.block, found, `the edge's normal, ${fixed(normal, 2)}`, stub.at);
  }
  const total = loopLength(part.loop);
  const half = Math.max(0, stub.width / 2 - WRITTEN);
  for (const s of [spot.s - half, spot.s, spot.s + half]) {
    const p = pointAlong(part.loop, ((s % total) + total) % total)?.point;
    if (p === undefined || !onNoTab(job, part, p)) continue;
    say(stub.block, `${name} stands on an edge that shall have none`, 'a stub elsewhere', stub.at);
    break;
  }
}

function checkWish(stub: HeadStub, part: WantedPart, wish: Extract<HoldRequest, { by: 'stub' }>, say: Say): void {
  const name = `the stub of part ${stub.part + 1}`;
  if (Math.abs(stub.width - wish.width) > 2 * WRITTEN)
    say(stub.block, `${name} is ${fixed(stub.width, 3)} wide`, `${fixed(wish.width, 3)} wide`, stub.at);
  const at = placePoint(part.place, wish.at);
  if (dist(stub.at, at) > 0.01)
    say(stub.block, `${name} stands elsewhere`, `X${fixed(at.x, 3)} Y${fixed(at.y, 3)}, as asked for`, stub.at);
  const asked = (part.place.mirror ? 180 - wish.directionDeg : wish.directionDeg) + toDeg(part.place.turn);
  const turned = Math.abs(((((stub.directionDeg - asked + 180) % 360) + 360) % 360) - 180);
  if (turned > TAB_DIRECTION_DEG)
    say(stub.block, `${name} points elsewhere`, `${fixed(asked, 2)} degrees, as asked for`, stub.at);
}
