/**
 * The stubs that the head declares, measured in the strokes: standing to the top, their flanks half the width either side of the line
 * that runs out square from the edge, no nearer and no further.
 */
import { type Mm, toRad } from '../../base/units.ts';
import { segmentBox, subSegment } from '../../geometry/measure/segment.ts';
import { inversePlacement, placeLoop } from '../../geometry/measure/transform.ts';
import type { Box, Segment } from '../../geometry/types.ts';
import { LIMITS, TAB_WIDTH } from '../limits.ts';
import type { HeadStub } from '../program/head.ts';
import type { Findings } from '../report/findings.ts';
import { pathBelow, type Stroke } from '../strokes/stroke.ts';
import type { CheckedSetUp } from '../work.ts';
import { besideOwn, type MeasuredTab } from './tabs.ts';

/** A stub wider than stated leaves edge that nobody expects to saw: two edges' limits and the chords of a post without arcs. */
const STUB_WIDER: Mm = 0.05;

/** As tabs that no pass has lowered. */
export function checkStubs(work: CheckedSetUp, out: Findings): MeasuredTab[] {
  const { strokes, complete } = work;
  const { thickness, parts } = work.wanted;
  const stubs = work.programs[0]?.head.stubs ?? [];
  const measured = stubs.map((stub) => {
    const tab = { ...stub, number: stub.part + 1, height: thickness };
    const flanks = flanksOf(stub, strokes, (s) => besideOwn(tab, s, parts));
    judge(flanks, stub, complete, out);
    return { tab, waist: flanks[0] + flanks[1], height: thickness, heightAtEdge: thickness, lowered: [] };
  });
  if (stubs.length > 0 && complete) {
    const says =
      'each stub stands to the top, and both its flanks where they are stated to be, from exact extents of the paths beside it';
    out.prove('stubs', 0.01, 'safe', says);
  }
  return measured;
}

type Flanks = readonly [Mm, Mm];

/** Clear distance from the stub's middle line to what is cut on its right and on its left, looking outward; negative: cut across. */
function flanksOf(stub: HeadStub, strokes: Iterable<Stroke>, beside: (s: Stroke) => readonly Stroke[]): Flanks {
  // The stub's own axes: X outward, Y along the edge.
  const own = inversePlacement({ at: stub.at, turn: toRad(stub.directionDeg), mirror: false });
  let right = Number.POSITIVE_INFINITY;
  let left = Number.POSITIVE_INFINITY;
  for (const s of strokes) {
    if (s.rapid || s.low > -LIMITS.tabHeight) continue;
    for (const piece of beside(s)) {
      const path = pathBelow(piece, -LIMITS.tabHeight);
      if (path === undefined) continue;
      // A cone is as wide as where it leaves the top face.
      const radius = s.tool.shape.at(-s.low);
      const placed = placeLoop(own, [path])[0]!;
      const whole = segmentBox(placed);
      // Further off on its side than what was found there before.
      if (whole.minY - radius >= left && whole.minY > 0) continue;
      if (-whole.maxY - radius >= right && whole.maxY < 0) continue;
      for (const box of boxesBeside(placed, -MOST_FALL * stub.width)) {
        if (box.minY <= 0) right = Math.min(right, Math.max(0, -box.maxY) - radius);
        if (box.maxY >= 0) left = Math.min(left, Math.max(0, box.minY) - radius);
      }
    }
  }
  return [right, left];
}

/**
 * Under half its width a part may fall back behind the place of its stub by this share of the width (the door refuses wider stubs); a
 * cutter whose axis stands further back runs along another side of the part.
 */
const MOST_FALL = 0.45;

/** Extents of the pieces of a path in the half plane of the stub. An arc is taken in short pieces, each whole. */
function boxesBeside(path: Segment, least: Mm): Box[] {
  if (path.kind === 'arc') {
    const pieces = Array.from({ length: ARC_PARTS }, (_, i) => subSegment(path, i / ARC_PARTS, (i + 1) / ARC_PARTS));
    return pieces.map(segmentBox).filter((b) => b.maxX >= least);
  }
  const [a, b] = [path.a.x - least, path.b.x - least];
  if (a < 0 && b < 0) return [];
  const cross = a / (a - b);
  if (a < 0) return [segmentBox(subSegment(path, cross, 1))];
  return [segmentBox(b < 0 ? subSegment(path, 0, cross) : path)];
}

const ARC_PARTS = 32;

function judge([right, left]: Flanks, stub: HeadStub, complete: boolean, out: Findings): void {
  const half = stub.width / 2;
  const worst = Math.min(right, left) < half - TAB_WIDTH / 2 ? Math.min(right, left) : Math.max(right, left);
  const off = worst - half;
  if (off >= -TAB_WIDTH / 2 && (off <= STUB_WIDER / 2 || !complete)) return;
  const name = `the stub of part ${stub.part + 1}`;
  const found = !Number.isFinite(worst)
    ? `nothing is cut on one side of ${name}`
    : worst <= 0
      ? `${name} is cut into from one side past its middle`
      : `${name} reaches ${worst.toFixed(3)} mm to one side of its middle line`;
  out.fault({
    code: 'stub-width',
    at: { program: 0, block: stub.block, at: [stub.at.x, stub.at.y] },
    size: Number.isFinite(off) ? Math.abs(off) : stub.width,
    found,
    wanted: `half its width, ${half.toFixed(3)} mm, on both sides`,
    remedy: off < 0 ? 'keep the path out of the stub' : 'run the path up to the stub on both sides',
  });
}
