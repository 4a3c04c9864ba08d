/** What the plan view of the set-up is dimensioned with: places from the zero along X and Y. */
import type { Mm } from '../../../base/units.ts';
import { loopBox } from '../../../geometry/measure/loop.ts';
import type { Point } from '../../../geometry/types.ts';
import type { Units } from '../figures.ts';
import type { SheetInput } from '../input.ts';
import { placedParts } from '../placed.ts';
import type { TouchOff } from '../touch-place.ts';
import type { DimensionFigure } from './dimension.ts';
import { clampBoxes } from './front-view.ts';
import { onPaper, type View } from './pen.ts';

export interface PlanMarks {
  readonly x: readonly DimensionFigure[];
  readonly y: readonly DimensionFigure[];
}

/** A place to be dimensioned in both directions. */
interface DimensionedPlace {
  readonly at: Point;
  readonly rank: number;
  /** Key paths of its x and y in the plan file. */
  readonly plan?: readonly [string, string];
}

/** `lines`: where the two dimension lines run on paper (x of the upright one, y of the level one). */
export function planMarks(input: SheetInput, u: Units, touch: TouchOff | null, view: View, lines: Point): PlanMarks {
  const spots = spotsOf(input, touch);
  const mark = (s: DimensionedPlace, along: Mm, value: Mm, from: Mm, which: 0 | 1): DimensionFigure => ({
    ...{ text: u.size(value), along, from: Math.max(0, from), rank: s.rank },
    ...(s.plan === undefined ? {} : { plan: s.plan[which] }),
  });
  const on = (s: DimensionedPlace): Point => onPaper(view, s.at);
  const corner = onPaper(view, { x: input.job.stock.min[0], y: input.job.stock.min[1] });
  // Extension lines begin just outside the stock: drawn from each place itself they would bury the part.
  const below = lines.y - corner.y - 1;
  const left = corner.x - lines.x - 1;
  return {
    x: spots.map((s) => mark(s, on(s).x, s.at.x, below, 0)),
    y: spots.map((s) => mark(s, on(s).y, s.at.y, left, 1)),
  };
}

function spotsOf(input: SheetInput, touch: TouchOff | null): DimensionedPlace[] {
  const { stock, places } = input.job;
  const parts = placedParts(input.job);
  return [
    { at: { x: 0, y: 0 }, rank: 0 },
    { at: { x: stock.min[0], y: stock.min[1] }, rank: 0, plan: ['stock.min.0', 'stock.min.1'] },
    { at: { x: stock.max[0], y: stock.max[1] }, rank: 0, plan: ['stock.max.0', 'stock.max.1'] },
    ...places.map((p, i): DimensionedPlace => ({ at: p.at, rank: 1, plan: [`parts.${i}.at.0`, `parts.${i}.at.1`] })),
    ...parts.flatMap((p) => p.holes.map((h): DimensionedPlace => ({ at: h.at, rank: 1 }))),
    ...(touch === null ? [] : [{ at: touch.at, rank: 1 }]),
    ...clampBoxes(input).flatMap((b): DimensionedPlace[] => [
      corner(b.min, b.plan, 'min'),
      corner(b.max, b.plan, 'max'),
    ]),
    ...parts.flatMap((p) => {
      const box = loopBox(p.outline);
      return [
        { at: { x: box.minX, y: box.minY }, rank: 2 },
        { at: { x: box.maxX, y: box.maxY }, rank: 2 },
      ];
    }),
    ...input.holding.tabs.map(
      (t, i): DimensionedPlace => ({
        at: t.at,
        rank: 3,
        plan: [`setups.0.hold.tabs.${i}.at.0`, `setups.0.hold.tabs.${i}.at.1`],
      }),
    ),
    ...input.holding.stubs.map(
      (s, i): DimensionedPlace => ({
        at: s.at,
        rank: 3,
        plan: [`setups.0.hold.stubs.${i}.at.0`, `setups.0.hold.stubs.${i}.at.1`],
      }),
    ),
  ];
}

function corner(at: Point, plan: string | null, end: 'min' | 'max'): DimensionedPlace {
  return plan === null ? { at, rank: 2 } : { at, rank: 2, plan: [`${plan}.${end}.0`, `${plan}.${end}.1`] };
}
