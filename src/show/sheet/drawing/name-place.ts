/** Where a name stands beside its thing on the drawing: the first place that is free, else the one least in the way. */
import type { Mm } from '../../../base/units.ts';
import type { Box, Point } from '../../../geometry/types.ts';
import { LETTERING } from './pen.ts';

/** Of a name set in capitals and figures: width by a usual sans-serif face, height of the capitals. */
function nameBox(base: Point, text: string): Box {
  const half = (text.length * LETTERING * 0.56) / 2;
  return { minX: base.x - half, maxX: base.x + half, minY: base.y - LETTERING * 0.74, maxY: base.y + LETTERING * 0.06 };
}

export interface InTheWay {
  readonly box: Box;
  /** How bad it is to stand on it: 1 is another name or a line that matters. */
  readonly weight: number;
}

export interface NamePlace {
  /** Counts against a place that is farther off than it need be. */
  readonly cost: number;
  /** Middle of the base line. */
  readonly at: Point;
  readonly box: Box;
}

/** Directions tried in this order, on paper: right above, left above, below, and so on round. */
const WAYS: readonly (readonly [number, number])[] = [
  [1, -1],
  [-1, -1],
  [1, 1],
  [-1, 1],
  [0, -1],
  [0, 1],
  [1, 0],
  [-1, 0],
];

/** Tried when it is crowded nearer; a millimetre farther is as bad as so many square millimetres of overlap. */
const FARTHER: readonly Mm[] = [0, 1.4, 2.8];
const FAR = 1.5;

/** Beside a thing that reaches `reach` round its middle. */
export function besideRound(middle: Point, reach: Mm, text: string, inTheWay: readonly InTheWay[]): NamePlace {
  const half = (text.length * LETTERING * 0.56) / 2;
  const tall = LETTERING * 0.74;
  const gap = 0.5;
  const places = FARTHER.flatMap((farther) =>
    WAYS.map(([dx, dy]): NamePlace => {
      const lean = dx !== 0 && dy !== 0 ? 0.72 : 1;
      const out = reach * lean + gap + farther;
      const at = { x: middle.x + dx * (out + half), y: middle.y + dy * (out + tall / 2) + tall / 2 };
      return { at, box: nameBox(at, text), cost: farther * FAR };
    }),
  );
  return least(places, inTheWay);
}

/** Just outside a box: along its upper and lower side, then beside it. */
export function besideBox(around: Box, text: string, inTheWay: readonly InTheWay[]): NamePlace {
  const half = (text.length * LETTERING * 0.56) / 2;
  const tall = LETTERING * 0.74;
  const gap = 0.8;
  const middle = (around.minY + around.maxY + tall) / 2;
  const along = [0.5, 0.35, 0.65, 0.2, 0.8, 0.05, 0.95].map((t) => around.minX + t * (around.maxX - around.minX));
  const bases = [
    ...along.map((x) => ({ x, y: around.minY - gap })),
    ...along.map((x) => ({ x, y: around.maxY + gap + tall })),
    { x: around.minX - gap - half, y: middle },
    { x: around.maxX + gap + half, y: middle },
  ];
  return least(
    bases.map((at) => ({ at, box: nameBox(at, text), cost: 0 })),
    inTheWay,
  );
}

function least(places: readonly NamePlace[], inTheWay: readonly InTheWay[]): NamePlace {
  let best = places[0]!;
  let cost = Number.POSITIVE_INFINITY;
  for (const p of places) {
    const own = inTheWay.reduce((sum, w) => sum + w.weight * overlap(p.box, w.box), p.cost);
    if (own < cost - 1e-9) [best, cost] = [p, own];
  }
  return best;
}

function overlap(a: Box, b: Box): number {
  const w = Math.min(a.maxX, b.maxX) - Math.max(a.minX, b.minX);
  const h = Math.min(a.maxY, b.maxY) - Math.max(a.minY, b.minY);
  return w > 0 && h > 0 ? w * h : 0;
}

export function boxOfPoints(points: readonly Point[]): Box {
  const [xs, ys] = [points.map((p) => p.x), points.map((p) => p.y)];
  return { minX: Math.min(...xs), maxX: Math.max(...xs), minY: Math.min(...ys), maxY: Math.max(...ys) };
}

/** Round the stock: at its left and below stand the dimensions, above and at its right there is only its own edge. */
export function outsideOf(box: Box): InTheWay[] {
  const far = 30;
  const { minX, maxX, minY, maxY } = box;
  return [
    { weight: 3, box: { minX: minX - far, maxX: minX, minY: minY - far, maxY: maxY + far } },
    { weight: 3, box: { minX, maxX, minY: maxY, maxY: maxY + far } },
    { weight: 0.6, box: { minX: maxX, maxX: maxX + far, minY: minY - far, maxY: maxY + far } },
    { weight: 0.6, box: { minX, maxX, minY: minY - far, maxY: minY } },
    { weight: 3, box: { minX, maxX, minY: minY - 0.4, maxY: minY + 0.4 } },
    { weight: 3, box: { minX: maxX - 0.4, maxX: maxX + 0.4, minY, maxY } },
  ];
}
