/** Holes stand where they shall: the axis of every drill, reamer and tap, and the centre of every circle that bores. */
import type { Mm } from '../../base/units.ts';
import { dist } from '../../geometry/measure/point.ts';
import type { Point } from '../../geometry/types.ts';
import type { CutterKind, Machine } from '../../part/part.ts';
import { LIMITS, ROUNDING } from '../limits.ts';
import type { Findings } from '../report/findings.ts';
import { isVertical, type Stroke } from '../strokes/stroke.ts';
import { firstStroke } from '../strokes/strokes.ts';
import type { HoleSpace } from '../wanted/opening.ts';
import type { WantedParts } from '../wanted/wanted.ts';

const ON_AXIS: readonly CutterKind[] = [
  'drill',
  'spot drill',
  'centre drill',
  'reamer',
  'tap',
  'countersink',
  'counterbore',
];

export function checkHolePlaces(strokes: Iterable<Stroke>, wanted: WantedParts, out: Findings): void {
  const holes = wanted.parts.flatMap((p) => p.holes);
  if (holes.length === 0) return;
  for (const s of strokes) {
    const centre = s.rapid || s.low >= 0 ? undefined : centreOf(s);
    if (centre === undefined) continue;
    for (const h of holes) {
      const off = dist(centre, h.at);
      if (off > h.hole.diameter / 4 || !concerns(s, h)) continue;
      if (off > LIMITS.holePlace + ROUNDING) tell(s, h, centre, off, out);
    }
  }
  out.prove(
    'hole places',
    1e-4,
    'none',
    'axes of drills, reamers and taps and centres of boring circles, as written, against the job',
  );
}

/** On a machine that taps, a tapped hole without a tap in the program is told; many are tapped at the bench all the same. */
export function checkTapped(
  strokes: Iterable<Stroke>,
  wanted: WantedParts,
  machine: Machine,
  complete: boolean,
  out: Findings,
): void {
  if (machine.tapping !== 'machine' || !complete) return;
  for (const h of wanted.parts.flatMap((p) => p.holes)) {
    if (h.hole.make.kind !== 'tap') continue;
    const taps = (s: Stroke) =>
      s.tool.cutter.kind === 'tap' && s.low < 0 && dist(s.path.b, h.at) < LIMITS.holePlace + ROUNDING;
    if (firstStroke(strokes, taps) !== undefined) continue;
    const found = `hole ${h.hole.index + 1} of part ${h.part + 1} is not tapped ${h.hole.make.thread} by the program`;
    out.caution({
      code: 'not-tapped',
      at: { program: 0, block: 0, at: [h.at.x, h.at.y] },
      found,
      wanted: 'a tap, or tapping at the bench',
      remedy: 'tap it by hand',
    });
  }
}

function centreOf(s: Stroke): Point | undefined {
  if (s.path.kind === 'arc') return s.path.centre;
  return isVertical(s) && ON_AXIS.includes(s.tool.cutter.kind) ? s.path.a : undefined;
}

/** A circle bores a hole when it brings the cutter to its wall; other circles near it are somebody else's. */
function concerns(s: Stroke, h: HoleSpace): boolean {
  if (s.path.kind !== 'arc') return true;
  return Math.abs(s.path.radius + s.tool.shape.radius - h.hole.diameter / 2) < BORE_MATCH;
}

const BORE_MATCH: Mm = 0.05;

function tell(s: Stroke, h: HoleSpace, at: Point, off: Mm, out: Findings): void {
  out.fault({
    code: 'hole-place',
    at: { program: s.program, block: s.block, at: [at.x, at.y] },
    size: off,
    found: `hole ${h.hole.index + 1} of part ${h.part + 1} is ${off.toFixed(4)} mm off its place`,
    wanted: `within ${LIMITS.holePlace} mm`,
    remedy: 'correct X and Y',
  });
}
