/**
 * The part's own give where it hangs out from its supports: as a cantilever from the nearest support, as wide as the
 * narrowest metal on the way. Between two supports a beam gives less (at most half): errs on the safe side.
 */
import { cube } from '../../base/powers.ts';
import type { Mm } from '../../base/units.ts';
import type { OwnCompliance } from '../../mechanics/held/held-state.ts';
import { beamMovement, type ElasticModuli } from '../../mechanics/support/beam.ts';
import type { PartSpot } from '../scene/scene.ts';

export const NO_COMPLIANCE: OwnCompliance = { normal: 0, up: 0 };

/** Over this share of the total movement the stiff-body model does not hold there (design section 5). */
export const OWN_SHARE_REPORTED = 0.25;

/** One a spot: the least over the supports. */
export function ownCompliances(
  spots: readonly PartSpot[],
  supports: readonly { readonly x: Mm; readonly y: Mm }[],
  thickness: Mm,
  metal: ElasticModuli,
): readonly OwnCompliance[] {
  return spots.map((s) => {
    let best: OwnCompliance | null = null;
    for (const p of supports) {
      const compliance = complianceFrom(s, p, thickness, metal);
      if (best === null || compliance.normal + compliance.up < best.normal + best.up) best = compliance;
    }
    return best ?? NO_COMPLIANCE;
  });
}

/** Under this distance the spot is at the support. */
const AT: Mm = 0.5;

export function complianceFrom(
  s: PartSpot,
  p: { readonly x: Mm; readonly y: Mm },
  thickness: Mm,
  metal: ElasticModuli,
): OwnCompliance {
  const square = (s.x - p.x) ** 2 + (s.y - p.y) ** 2;
  const length = Math.sqrt(square);
  if (length < AT) return NO_COMPLIANCE;
  const wide = narrowest(s, square);
  const area = wide * thickness;
  const upright = beamMovement('cantilever', 1, length, { area, inertia: (wide * cube(thickness)) / 12 }, metal).total;
  const flat = beamMovement('cantilever', 1, length, { area, inertia: (thickness * cube(wide)) / 12 }, metal).total;
  const across = ((s.x - p.x) * s.ny - (s.y - p.y) * s.nx) / length;
  return { normal: flat * across * across, up: upright };
}

/** Least depth of metal at the spots no farther from `s` than this (square of the distance). */
function narrowest({ near: { squares, depths }, depth }: PartSpot, square: number): Mm {
  let lo = 0;
  let hi = squares.length;
  while (lo < hi) {
    const mid = (lo + hi) >> 1;
    if (squares[mid]! <= square) lo = mid + 1;
    else hi = mid;
  }
  return lo === 0 ? depth : depths[lo - 1]!;
}
