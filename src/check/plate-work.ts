/** The strokes on the plate against what the job wants. Reads like the list of what is proved. */
import type { Mm } from '../base/units.ts';
import { segmentLength } from '../geometry/measure/segment.ts';
import type { Job } from '../part/part.ts';
import { checkAxial } from './exact/axial.ts';
import { checkBacking } from './exact/backing.ts';
import { roundCorners } from './exact/corners.ts';
import { checkScrewHeads } from './exact/heads.ts';
import { checkHolePlaces, checkTapped } from './exact/holes.ts';
import { checkObstacles } from './exact/obstacles.ts';
import { checkPlunges } from './exact/plunge.ts';
import { checkRapids } from './exact/rapids.ts';
import { checkWalls } from './exact/reached.ts';
import { wallsOf } from './exact/walls.ts';
import { checkLeftover } from './field/leftover.ts';
import { removeStock } from './field/removal.ts';
import { checkFitted } from './held/fitted.ts';
import { checkFloor } from './held/floor.ts';
import { checkFrame } from './held/frame.ts';
import { checkHeld } from './held/held.ts';
import type { Head } from './program/head.ts';
import type { ReadProgram } from './program/reading.ts';
import { checkOutline } from './program/source.ts';
import { checkTouches } from './program/touch.ts';
import type { Findings } from './report/findings.ts';
import { checkBonds } from './strength/bonds.ts';
import { checkGrip } from './strength/grip.ts';
import { checkLoads } from './strength/load.ts';
import { checkStrength } from './strength/strength.ts';
import { checkSlivers } from './strokes/slivers.ts';
import { checkStubs } from './tabs/stubs.ts';
import { checkTabs } from './tabs/tabs.ts';
import { labelCells } from './wanted/labels.ts';
import { blockNear } from './wanted/place.ts';
import type { CheckedSetUp } from './work.ts';

export function checkPlate(work: CheckedSetUp, out: Findings): void {
  const { job, wanted, strokes, complete } = work;
  const head = work.programs[0]?.head ?? null;
  const placed = head?.parts[0]?.block ?? 1;
  checkOutline(job.part.outline, 'the edge', placed, out);
  for (const p of job.part.pockets) checkOutline(p.outline, `pocket ${p.index + 1}`, placed, out);
  out.locateBy((spot) => blockNear(strokes, spot));
  checkEdges(work, head, out);
  checkHolePlaces(strokes, wanted, out);
  checkTapped(strokes, wanted, job.machine, complete, out);
  const tabs = checkTabs(work, out);
  const stubs = checkStubs(work, out);
  checkFloor(work, out);
  const removal = removeStock(strokes, job, smallestOf(job, work.programs), work.shelf());
  checkRapids(strokes, job, removal, out);
  checkObstacles(strokes, job, removal, out);
  checkFitted(work, out);
  checkScrewHeads(work, out);
  checkTouches(work, out);
  checkBacking(work, out);
  checkSlivers(strokes, out);
  checkAxial(strokes, job, out);
  checkPlunges(strokes, removal, out);
  const labels = labelCells(removal.field, wanted);
  checkLeftover(removal.field, labels, roundCorners(wanted.parts, strokes), complete, out);
  checkHeld(work, removal, labels, out);
  const loads = checkLoads(work, removal, out);
  const { bars, known } = checkFrame(work, removal, labels, [...tabs, ...stubs], out);
  checkStrength(work, bars, loads, out);
  checkGrip(work, bars, known, loads, out);
  checkBonds(work, bars.slice(0, tabs.length), loads, out);
}

function checkEdges(work: CheckedSetUp, head: Head | null, out: Findings): void {
  const walls = wallsOf(work.job, work.wanted, head);
  const reach = checkWalls(walls, work.strokes, work.complete, out);
  if (reach.some((r) => r.state !== 'reached')) return;
  const says =
    'every edge and wall has a cut within the limit at its foot, by exact intervals along it; declared tabs and inside corners that no cutter in use enters are left out';
  out.prove('edge reached', 0.001, 'safe', says);
}

/** What the field must tell apart: cutters, waists of tabs, the part's own narrow places as far as its holes tell. */
function smallestOf(job: Job, programs: readonly ReadProgram[]): Mm {
  // Each program's head names its own cutters only.
  const named = new Set(programs.flatMap((p) => p.head.cutters.map((c) => c.number)));
  const cutters = job.cutters.filter((c) => named.size === 0 || named.has(c.number));
  const tabs = programs[0]?.head.tabs ?? [];
  const sizes = [...cutters.map((c) => c.diameter), ...tabs.map((t) => t.width)];
  const pieces = job.part.outline.loop.map(segmentLength).filter((l) => l > LEAST_PIECE);
  return Math.max(LEAST_FEATURE, Math.min(...sizes, ...pieces));
}

/** Shorter pieces of the edge are roundings, not features. */
const LEAST_PIECE: Mm = 1;
/** Finer than this the field grows without telling more: cells of 0.05 mm. */
const LEAST_FEATURE: Mm = 0.5;
