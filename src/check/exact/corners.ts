/**
 * Inside corners of a pocket that its cutter cannot enter stay round, and stock stands in them on purpose: the wall's own note tells of it
 * (`corner-left-round`). This says whether a point of a pocket's floor lies in such a corner.
 */
import type { Mm } from '../../base/units.ts';
import { dist } from '../../geometry/measure/point.ts';
import { nearestOn } from '../../geometry/measure/segment.ts';
import type { Point } from '../../geometry/types.ts';
import { LIMITS, WRITTEN } from '../limits.ts';
import type { Stroke } from '../strokes/stroke.ts';
import { near } from '../wanted/clear.ts';
import type { Edge } from '../wanted/pieces.ts';
import type { WantedPart, WantedPocket } from '../wanted/wanted.ts';

/** Of each part: whether no disc of the smallest cutter used in the pocket there can cover a point and keep off its walls. */
export function roundCorners(
  parts: readonly WantedPart[],
  strokes: Iterable<Stroke>,
): (part: number, p: Point) => boolean {
  const radii = new Map<WantedPocket, Mm | null>();
  const radiusOf = (pocket: WantedPocket): Mm | null => {
    const known = radii.get(pocket);
    if (known !== undefined) return known;
    const found = smallestIn(pocket, strokes);
    radii.set(pocket, found);
    return found;
  };
  return (part, p) => {
    const pocket = parts[part]?.pockets.find((q) => q.outer.inside(p));
    const radius = pocket === undefined ? null : radiusOf(pocket);
    return pocket !== undefined && radius !== null && !coverable(pocket, p, radius);
  };
}

/** Radius of the smallest cutter brought to the pocket's floor; null: none was, and no corner excuses what stands there. */
function smallestIn(pocket: WantedPocket, strokes: Iterable<Stroke>): Mm | null {
  let least = Infinity;
  for (const s of strokes) {
    const { shape } = s.tool;
    if (s.rapid || shape.pointed || s.low > pocket.bottom + LIMITS.depth || shape.radius >= least) continue;
    if (near(pocket.outer.box, s.box, 0) && pocket.outer.inside(s.path.a)) least = shape.radius;
  }
  return least === Infinity ? null : least;
}

/** Squares smaller than this are decided by their middle. */
const FINEST: Mm = 0.002;

/**
 * Whether a disc may cover the point and stay as far from the walls as may be left on them. The clearance of a centre changes no
 * faster than the centre moves, so squares of centres are set aside as a whole, and a place that exists is not missed.
 */
function coverable(pocket: WantedPocket, p: Point, radius: Mm): boolean {
  const need = radius + LIMITS.uncut;
  const reach = radius - WRITTEN;
  const open = [{ x: p.x, y: p.y, half: radius }];
  for (let square = open.pop(); square !== undefined; square = open.pop()) {
    const { half } = square;
    const far = half * Math.SQRT2;
    const away = dist(square, p);
    if (away - far > reach) continue;
    const clear = clearance(pocket, square);
    if (clear + far < need) continue;
    if (clear >= need && away <= reach) return true;
    if (half < FINEST) continue;
    const q = half / 2;
    for (const [dx, dy] of QUARTERS) open.push({ x: square.x + dx * q, y: square.y + dy * q, half: q });
  }
  return false;
}

const QUARTERS = [
  [1, 1],
  [1, -1],
  [-1, 1],
  [-1, -1],
] as const;

/** Distance to the nearest wall; negative where something stays. */
function clearance(pocket: WantedPocket, p: Point): Mm {
  const { open, outer } = pocket;
  const toWall = distanceTo(open?.solid ?? outer, p);
  const isClear = open === null ? outer.inside(p) : !open.solid.inside(p);
  let least = isClear ? toWall : -toWall;
  for (const island of pocket.islands) {
    const away = distanceTo(island, p);
    least = Math.min(least, island.inside(p) ? -away : away);
  }
  return least;
}

function distanceTo(edge: Edge, p: Point): Mm {
  return edge.pieces.reduce((least, s) => Math.min(least, nearestOn(s, p).distance), Infinity);
}
