/** Where a fresh cutter is touched off: a place on top of the frame that no operation ever cuts. */

import type { Mm } from '../../base/units.ts';
import { distanceToLoop } from '../../geometry/measure/distance.ts';
import { loopBox } from '../../geometry/measure/loop.ts';
import { placeLoop } from '../../geometry/measure/transform.ts';
import type { Box, Point } from '../../geometry/types.ts';
import type { PlacedPart } from '../../part/placed.ts';
import { pocketArea } from '../openings.ts';
import type { Scene } from '../scene.ts';

/** Keep this much clear of cut edges, clamps and the stock's edge beyond the cutter's own radius. */
const ROOM: Mm = 1;
/** Grid on which places are tried: whole millimetres, or twentieths of an inch, from the zero, as one likes to dial them. */
const STRIDE: Readonly<Record<'mm' | 'inch', Mm>> = { mm: 1, inch: 1.27 };

export interface TouchOffPlace {
  readonly at: Point;
  /** As the person is told: `the stock`. */
  readonly on: string;
  /** z of the surface touched. */
  readonly z: Mm;
  /** Clear distance to the nearest thing in the way. */
  readonly room: Mm;
}

/** The roomiest place on the frame; null when the frame leaves no room for the cutters' `radius`. */
export function touchPlace(scene: Scene, slotWidth: Mm, radius: Mm): TouchOffPlace | null {
  const { min, max } = scene.job.stock;
  const around = surroundings(scene);
  let best: TouchOffPlace | null = null;
  const stride = STRIDE[scene.post.units];
  for (const x of steps(min[0] + ROOM, max[0] - ROOM, stride)) {
    for (const y of steps(min[1] + ROOM, max[1] - ROOM, stride)) {
      const wanted = best === null ? radius + ROOM : best.room + 1e-9;
      const room = roomAt(around, { x, y }, slotWidth, wanted);
      if (room > wanted) best = { at: { x, y }, on: 'the stock', z: scene.heights.stockTop, room };
    }
  }
  return best;
}

/** Multiples of the stride between two places. */
function steps(from: Mm, to: Mm, stride: Mm): Mm[] {
  const first = Math.ceil(from / stride - 1e-9);
  const count = Math.max(0, Math.floor(to / stride + 1e-9) - first + 1);
  return Array.from({ length: count }, (_, i) => (first + i) * stride);
}

interface Surroundings {
  readonly stock: Scene['job']['stock'];
  readonly boxes: readonly Box[];
  readonly parts: readonly PlacedPart[];
}

function surroundings(scene: Scene): Surroundings {
  return {
    stock: scene.job.stock,
    boxes: [...scene.obstacles, ...facedBoxes(scene), ...mouthBoxes(scene)],
    parts: scene.parts,
  };
}

/** The outlines, by far the slowest to ask, only where all else leaves more than `wanted`. */
function roomAt({ stock: { min, max }, boxes, parts }: Surroundings, p: Point, slotWidth: Mm, wanted: Mm): Mm {
  // Half a cutter may overhang the stock's edge, so the edge counts less than a clamp or a cut.
  let room = 2 * Math.min(p.x - min[0], max[0] - p.x, p.y - min[1], max[1] - p.y) + ROOM;
  for (const b of boxes) room = Math.min(room, awayFrom(b, p));
  for (const { outline: loop, box } of parts) {
    if (room <= wanted) break;
    // Within the outline's box a place would look odd even if it is free.
    const near = awayFrom(box, p) === 0 ? 0 : distanceToLoop(loop, p);
    room = Math.min(room, near - slotWidth);
  }
  return room;
}

/** Stretches of stock top that are faced: lower afterwards than when the first cutter was touched off. */
function facedBoxes(scene: Scene): readonly Box[] {
  return scene.plan.setups.flatMap((s) =>
    s.operations.flatMap(({ target: t }) =>
      t.kind === 'stock' ? [{ minX: t.min.x, minY: t.min.y, maxX: t.max.x, maxY: t.max.y }] : [],
    ),
  );
}

/** Room that is cut before open sides of pockets. */
function mouthBoxes(scene: Scene): readonly Box[] {
  return scene.plan.setups.flatMap((s) =>
    s.operations.flatMap(({ target: t }) =>
      t.kind === 'pocket' && t.out > 0
        ? t.parts.map((part) => {
            const { area, place } = pocketArea(scene, part, t.pocket, t.out);
            return loopBox(placeLoop(place, area.outer));
          })
        : [],
    ),
  );
}

function awayFrom(b: Box, p: Point): Mm {
  return Math.hypot(Math.max(b.minX - p.x, 0, p.x - b.maxX), Math.max(b.minY - p.y, 0, p.y - b.maxY));
}
