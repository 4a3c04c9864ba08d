/** The programs of one part on edge against the job: its head, its one hole, and nothing else cut. */

import { checkAxial } from './exact/axial.ts';
import { checkGouge } from './exact/gouge.ts';
import { checkHolePlaces, checkTapped } from './exact/holes.ts';
import { checkObstacles } from './exact/obstacles.ts';
import { checkPlunges } from './exact/plunge.ts';
import { checkRapids } from './exact/rapids.ts';
import { checkWalls } from './exact/reached.ts';
import { wallsOf } from './exact/walls.ts';
import { checkLeftover } from './field/leftover.ts';
import { removeStock } from './field/removal.ts';
import { LIMITS, WRITTEN } from './limits.ts';
import { checkFrameHead } from './program/agree.ts';
import type { Head } from './program/head.ts';
import type { ReadProgram } from './program/reading.ts';
import type { Findings } from './report/findings.ts';
import { checkLoads } from './strength/load.ts';
import { checkSlivers } from './strokes/slivers.ts';
import { inMemory } from './strokes/spool.ts';
import type { Stroke } from './strokes/stroke.ts';
import type { Strokes } from './strokes/strokes.ts';
import type { PartOnEdge } from './wanted/edge-stand.ts';
import { labelCells } from './wanted/labels.ts';
import { wantedOf } from './wanted/wanted.ts';

export function checkOnEdge(
  stand: PartOnEdge,
  programs: readonly ReadProgram[],
  strokes: Strokes,
  complete: boolean,
  out: Findings,
): void {
  const { job } = stand;
  const wanted = wantedOf(job);
  for (const r of programs) {
    checkEdgeHead(r.head, stand, r.index, out);
    checkStoodUp(r, stand, out);
  }
  checkGouge(strokes, wanted, out);
  const bore = wallsOf(job, wanted, null).filter((w) => w.code === 'hole-uncut');
  checkWalls(bore, strokes, complete, out);
  checkHolePlaces(strokes, wanted, out);
  checkTapped(strokes, wanted, job.machine, complete, out);
  const removal = removeStock(strokes, job, stand.hole.diameter);
  checkRapids(strokes, job, removal, out);
  checkObstacles(strokes, job, removal, out, stand.jaws);
  checkBeside(strokes, stand, out);
  checkSlivers(strokes, out);
  checkAxial(strokes, job, out);
  checkPlunges(strokes, removal, out);
  checkLeftover(removal.field, labelCells(removal.field, wanted), () => false, complete, out);
  checkLoads({ job, wanted, strokes, programs, complete, shelf: inMemory }, removal, out);
  out.doubt(
    `edge hole ${stand.hole.index + 1}: what holds the part`,
    'it stands in jaws, whose grip no file states; the sheet says how hard they must press',
  );
}

function checkEdgeHead(head: Head, { hole, job }: PartOnEdge, program: number, out: Findings): void {
  const edge = head.edge!;
  const say = (block: number, found: string, want: string) =>
    out.fault({
      code: 'head-disagrees',
      at: { program, block },
      found,
      wanted: want,
      remedy: 'make the program again from this job',
    });
  for (const u of head.unread) say(u.block, `cannot read the head's "${u.text}"`, 'the form that the head prescribes');
  checkFrameHead(head, job, say);
  const turn = Math.abs(((edge.directionDeg - hole.directionDeg + 540) % 360) - 180);
  if (edge.boss !== hole.boss || turn > WRITTEN)
    say(
      edge.block,
      `boss ${edge.boss + 1} at ${edge.directionDeg} degrees`,
      `boss ${hole.boss + 1} at ${hole.directionDeg}`,
    );
}

/** What a person is told to do before the first cut, and that the machine waits for it. */
function checkStoodUp(
  { head, index, firstCut, stopsFirst }: ReadProgram,
  { hole, radius }: PartOnEdge,
  out: Findings,
): void {
  if (firstCut !== null && !stopsFirst) {
    const found = 'it cuts before anybody has stood the part on edge';
    const wanted = 'a stop, M0, before the first cut';
    const remedy = 'write M0 before it';
    out.fault({ code: 'stop-missing', at: { program: index, block: firstCut }, found, wanted, remedy });
  }
  for (const s of head.standing.filter((v) => v.boss !== hole.boss)) {
    const found = `the message has boss ${s.boss + 1} up`;
    const wanted = `boss ${hole.boss + 1}`;
    const remedy = 'make the program again from this job';
    out.fault({ code: 'head-disagrees', at: { program: index, block: s.block }, found, wanted, remedy });
  }
  for (const t of head.touches) {
    const x = t.at?.x ?? 0;
    const z = Math.sqrt(Math.max(0, radius * radius - x * x)) - radius;
    if (Math.abs(t.z - z) <= LIMITS.depth) continue;
    const found = `the message says that Z is ${t.z.toFixed(3)} at X ${x.toFixed(3)}`;
    const wanted = `${z.toFixed(3)}, the crown there`;
    const remedy = 'correct the message: every depth after it is off by as much';
    out.fault({ code: 'touch-off', at: { program: index, block: t.block }, found, wanted, remedy });
  }
}

/** What turns above the hole against the part where it stands higher than the crown. */
function checkBeside(strokes: Iterable<Stroke>, { profile, hole }: PartOnEdge, out: Findings): void {
  for (const s of strokes) {
    const { shape, bodies, number } = s.tool;
    const [, shank, holder] = bodies;
    // Its point is narrower than it, and goes into the hole.
    const body = { name: 'body', radius: shape.radius, from: shape.fullAt };
    const beside = [body, shank!, holder!].filter((b) => b.radius > hole.diameter / 2 + LIMITS.boreRadius);
    const xs = [s.path.a.x, s.path.b.x];
    const [from, to] = [Math.min(...xs), Math.max(...xs)];
    for (const b of beside) {
      const met = profile.find((p) => p.z > 0 && p.z > s.low + b.from && p.x > from - b.radius && p.x < to + b.radius);
      if (met === undefined) continue;
      const found = `the ${b.name} of cutter ${number} meets the part, which stands ${met.z.toFixed(3)} mm above the mouth of the hole`;
      out.fault({
        code: 'holder-hits',
        at: { program: s.program, block: s.block, at: [met.x, 0, met.z] as const },
        found,
        wanted: 'room beside the hole',
        remedy: 'use a longer cutter',
      });
    }
  }
}
