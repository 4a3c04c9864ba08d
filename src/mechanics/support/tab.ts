/**
 * Stiffness of a tab: a short flared beam with bending, shear, pull and twist, rooted in walls that give way.
 * Local order everywhere: [out, along, up, turn about out, about along, about up], out from part to frame; forces are those
 * of the part on the tab at the part's edge, mid height.
 */
import { cube } from '../../base/powers.ts';
import type { Mm } from '../../base/units.ts';
import { type ElasticModuli, KAPPA, shearModulus, torsionConstant } from './beam.ts';
import { FLARE_SHARE, RIGID_ROOTS, type RootCompliance, rootCompliance, type Walls } from './root.ts';
import { eachStation, type TabShape, widthAt } from './tab-shape.ts';

/**
 * Flexibility (36 numbers, mm/N, rad/N mm) of the tab's part end with the frame standing still.
 * `walls` null: rigid roots and the full flare, the pure beam. Otherwise the thickness of part and frame where the tab
 * meets them; the flare then counts only as far as it carries.
 */
export function tabFlexibility(tab: TabShape, metal: ElasticModuli, walls: Walls | null): Float64Array {
  const f = new Float64Array(36);
  addBeam(f, tab, metal, walls === null ? WHOLE_FLARE : FLARE_SHARE);
  const roots = walls === null ? RIGID_ROOTS : rootCompliance(tab, metal, walls);
  addRoot(f, roots.part, roots.part.inside);
  addRoot(f, roots.frame, tab.slotWidth - roots.frame.inside);
  return f;
}

/** A flare rises by one radius on either side. */
const WHOLE_FLARE = 2;

function addBeam(f: Float64Array, tab: TabShape, metal: ElasticModuli, flareShare: number): void {
  const e = metal.modulus;
  const g = shearModulus(metal);
  const h = tab.height;
  eachStation(tab, 3, (s, ds) => {
    const radius = s < tab.slotWidth / 2 ? tab.cutterRadius : (tab.frameRadius ?? tab.cutterRadius);
    const w = Math.min(widthAt(tab, s), tab.waist + flareShare * radius);
    const area = w * h;
    const flat = ds / ((e * h * cube(w)) / 12);
    const upright = ds / ((e * w * cube(h)) / 12);
    const shear = ds / (KAPPA * g * area);
    f[0]! += ds / (e * area);
    f[21]! += ds / (g * torsionConstant(w, h));
    addBending(f, s, shear, flat, upright);
  });
}

/** Shear give `shear` and turning gives `flat` (about up) and `upright` (about along) at s from the part's edge. */
function addBending(f: Float64Array, s: Mm, shear: number, flat: number, upright: number): void {
  f[7]! += shear + s * s * flat;
  f[14]! += shear + s * s * upright;
  f[28]! += upright;
  f[35]! += flat;
  f[6 * 1 + 5]! -= s * flat;
  f[6 * 5 + 1]! -= s * flat;
  f[6 * 2 + 4]! += s * upright;
  f[6 * 4 + 2]! += s * upright;
}

function addRoot(f: Float64Array, root: RootCompliance, s: Mm): void {
  f[0]! += root.out;
  f[21]! += root.twist;
  addBending(f, s, 0, root.aboutUp, root.aboutAlong);
  f[7]! += root.along;
  f[14]! += root.up;
}
