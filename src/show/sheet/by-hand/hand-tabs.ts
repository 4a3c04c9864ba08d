/** Where the profile must not be cut to depth by hand: the stretch of the cutter's path over each tab, without ramps. */
import { type Deg, type Mm, toDeg, toRad } from '../../../base/units.ts';
import { loopLength, pointAlong, positionOf } from '../../../geometry/measure/loop.ts';
import { dist, dot, fromAngle, step, sub } from '../../../geometry/measure/point.ts';
import { directionAt, pointAt, segmentLength } from '../../../geometry/measure/segment.ts';
import type { Point, Segment } from '../../../geometry/types.ts';
import type { Tab } from '../../../hold/holding.ts';
import type { HandStep, KnownFigures } from './by-hand.ts';

export interface TabStretch {
  readonly step: HandStep | null;
  /** Along X of the turned flank, or degrees of the table: as the step it lies on counts. */
  readonly from: Mm | Deg;
  readonly to: Mm | Deg;
  readonly a: Point;
  readonly b: Point;
}

/**
 * The cutter stays up between two places whose discs are the tab's waist apart: straight-line distance waist + 2 radii.
 * Empty: the tab is wider than the path allows, or its edge is not on this path.
 */
export function tabStretches(
  figures: KnownFigures,
  tab: Pick<Tab, 'at' | 'directionDeg' | 'width'>,
  radius: Mm,
): TabStretch[] {
  const chain = figures.pieces.map((p) => p.path);
  const middle = positionOf(chain, step(tab.at, fromAngle(toRad(tab.directionDeg)), radius));
  if (middle === undefined || middle.distance > ON_PATH) return [];
  const half = halfLength(chain, middle.s, tab.width + 2 * radius);
  return half === null ? [] : stretchesBetween(figures, middle.s - half, middle.s + half);
}

const ON_PATH: Mm = 1e-3;

function halfLength(chain: Segment[], s: Mm, wanted: Mm): Mm | null {
  const apart = (h: Mm): Mm => dist(pointAlong(chain, s - h)!.point, pointAlong(chain, s + h)!.point);
  let [low, high] = [0, wanted / 2];
  const most = loopLength(chain) / 2;
  while (apart(high) < wanted) {
    high *= 1.05;
    if (high > most) return null;
  }
  for (let i = 0; i < 60; i++) {
    const mid = (low + high) / 2;
    if (apart(mid) < wanted) low = mid;
    else high = mid;
  }
  return high;
}

/** The pieces between two lengths along the closed path, which may pass its start. */
function stretchesBetween(figures: KnownFigures, from: Mm, to: Mm): TabStretch[] {
  const total = loopLength(figures.pieces.map((p) => p.path));
  const found: { order: Mm; stretch: TabStretch }[] = [];
  for (const shift of [-total, 0, total]) {
    let before = shift;
    for (const { path } of figures.pieces) {
      const length = segmentLength(path);
      const [lo, hi] = [Math.max(from, before), Math.min(to, before + length)];
      if (hi - lo > 1e-6) {
        const t: [number, number] = [(lo - before) / length, (hi - before) / length];
        found.push({ order: lo, stretch: stretchOn(figures, path, t) });
      }
      before += length;
    }
  }
  return found.sort((p, q) => p.order - q.order).map((f) => f.stretch);
}

function stretchOn(figures: KnownFigures, path: Segment, t: readonly [number, number]): TabStretch {
  const step = figures.steps.find((s) => s.path === path) ?? null;
  const [a, b] = t.map((v) => pointAt(path, Math.max(0, Math.min(1, v)))) as [Point, Point];
  if (step === null) return { step, from: 0, to: 0, a, b };
  if (step.kind === 'arc') {
    const sweep = toDeg(step.path.sweep);
    return { step, from: step.from + sweep * t[0], to: step.from + sweep * t[1], a, b };
  }
  const along = (p: Point): Mm => dot(sub(p, step.centre.at), directionAt(step.path, 0));
  return { step, from: along(a), to: along(b), a, b };
}
