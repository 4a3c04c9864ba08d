/** What the plan view of the set-up is dimensioned with: places from the zero along X and Y. */
import { loopBox } from '../../../geometry/measure/loop.ts';
import type { Point } from '../../../geometry/types.ts';
import { placedParts } from '../../../part/placed.ts';
import type { Units } from '../figures.ts';
import type { SheetInput } from '../input.ts';
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
  /** Key path in the plan file of the pair whose first is its x, second its y. */
  readonly plan?: string;
}

/** `lines`: where the two dimension lines run on paper (x of the upright one, y of the level one). */
export function planMarks(input: SheetInput, u: Units, touch: TouchOff | null, view: View, lines: Point): PlanMarks {
  const places = placesOf(input, touch);
  const corner = onPaper(view, { x: input.job.stock.min[0], y: input.job.stock.min[1] });
  // Extension lines begin just outside the stock: drawn from each place itself they would bury the part.
  const below = lines.y - corner.y - 1;
  const left = corner.x - lines.x - 1;
  return {
    x: places.map(({ at, rank, plan }) => {
      return {
        text: u.size(at.x),
        along: onPaper(view, at).x,
        from: Math.max(0, below),
        rank,
        plan: plan && `${plan}.0`,
      };
    }),
    y: places.map(({ at, rank, plan }) => {
      return {
        text: u.size(at.y),
        along: onPaper(view, at).y,
        from: Math.max(0, left),
        rank,
        plan: plan && `${plan}.1`,
      };
    }),
  };
}

function placesOf(input: SheetInput, touch: TouchOff | null): DimensionedPlace[] {
  const { stock, places } = input.job;
  const { tabs, stubs } = input.holding;
  const parts = placedParts(input.job);
  const hold = 'setups.0.hold';
  return [
    { at: { x: 0, y: 0 }, rank: 0 },
    { at: { x: stock.min[0], y: stock.min[1] }, rank: 0, plan: 'stock.min' },
    { at: { x: stock.max[0], y: stock.max[1] }, rank: 0, plan: 'stock.max' },
    ...places.map(({ at }, i) => ({ at, rank: 1, plan: `parts.${i}.at` })),
    ...parts.flatMap((p) => p.holes.map(({ at }) => ({ at, rank: 1 }))),
    ...(touch === null ? [] : [{ at: touch.at, rank: 1 }]),
    ...clampBoxes(input).flatMap((b) => [corner(b.min, b.plan, 'min'), corner(b.max, b.plan, 'max')]),
    ...parts.flatMap(({ outline }) => {
      const { minX, minY, maxX, maxY } = loopBox(outline);
      return [
        { at: { x: minX, y: minY }, rank: 2 },
        { at: { x: maxX, y: maxY }, rank: 2 },
      ];
    }),
    ...tabs.map(({ at }, i) => ({ at, rank: 3, plan: `${hold}.tabs.${i}.at` })),
    ...stubs.map(({ at }, i) => ({ at, rank: 3, plan: `${hold}.stubs.${i}.at` })),
  ];
}

function corner(at: Point, plan: string | null, end: 'min' | 'max'): DimensionedPlace {
  return plan === null ? { at, rank: 2 } : { at, rank: 2, plan: `${plan}.${end}` };
}
