/** Inside corners that a cutter leaves round are told from stock that it could have taken. */
import { describe, expect, it } from 'vitest';
import { roundCorners } from '../../../src/check/exact/corners.ts';
import { type Stroke, toolOf } from '../../../src/check/strokes/stroke.ts';
import { withBoxes } from '../../../src/check/wanted/pieces.ts';
import type { WantedPart, WantedPocket } from '../../../src/check/wanted/wanted.ts';
import { circle, line, segmentBox } from '../../../src/geometry/measure/segment.ts';
import type { Point } from '../../../src/geometry/types.ts';
import { cutter } from '../lever.ts';

const SIDE = 10;
const CORNERS: Point[] = [
  { x: 0, y: 0 },
  { x: SIDE, y: 0 },
  { x: SIDE, y: SIDE },
  { x: 0, y: SIDE },
];
const square = withBoxes(
  CORNERS.map((p, i) => line(p, CORNERS[(i + 1) % 4]!)),
  (p) => p.x > 0 && p.x < SIDE && p.y > 0 && p.y < SIDE,
);
const island = withBoxes([circle({ x: 5, y: 2 }, 1)], (p) => Math.hypot(p.x - 5, p.y - 2) < 1);
const pocket = (islands = [] as (typeof island)[]) =>
  ({ outer: square, islands, bottom: -1, through: false, open: null }) as unknown as WantedPocket;
const parts = (p: WantedPocket) => [{ pockets: [p] }] as unknown as WantedPart[];

function stroke(diameter: number, z = -1, at: Point = { x: 5, y: 7 }): Stroke {
  const path = line(at, { x: at.x + 0.5, y: at.y });
  const tool = toolOf(cutter(1, 'end mill', diameter));
  return { path, box: segmentBox(path), za: z, zb: z, low: z, rapid: false, tool } as unknown as Stroke;
}

describe('corners left round', () => {
  const round = roundCorners(parts(pocket()), [stroke(3), stroke(6)]);

  it('the border on the diagonal is where the smallest disc in the corner, 0.01 off both walls, ends', () => {
    // Its middle stands 1.51 from both walls; it covers 1.5 less the rounding of the text: 1.51 - 1.4985 / sqrt 2 = 0.4504.
    expect(round(0, { x: 0.44, y: 0.44 })).toBe(true);
    expect(round(0, { x: 0.46, y: 0.46 })).toBe(false);
  });

  it('stock along a wall and in the middle is never excused', () => {
    for (const p of [
      { x: 5, y: 0.1 },
      { x: 0.1, y: 6 },
      { x: 5, y: 5 },
    ])
      expect(round(0, p)).toBe(false);
  });

  it('a neck beside an island that the cutter does not pass is left', () => {
    // Between the island and the lower wall there is 1 mm.
    expect(roundCorners(parts(pocket([island])), [stroke(3)])(0, { x: 5, y: 0.5 })).toBe(true);
    expect(roundCorners(parts(pocket([island])), [stroke(0.9)])(0, { x: 5, y: 0.5 })).toBe(false);
  });

  it('nothing is excused where no cutter came down to the floor, or only beside the pocket', () => {
    expect(roundCorners(parts(pocket()), [stroke(3, -0.5)])(0, { x: 0.1, y: 0.1 })).toBe(false);
    expect(roundCorners(parts(pocket()), [stroke(3, -1, { x: 20, y: 5 })])(0, { x: 0.1, y: 0.1 })).toBe(false);
  });
});
