/**
 * How the walls give where a tab meets part and frame. A tab is so short that its walls give as much as the tab itself.
 *
 * Form of the terms: O'Donnell, "The additional deflection of a cantilever due to the elasticity of the support" (1960,
 * from memory): turn 16.67 M/(pi E b^2) = 5.3 M/(E b^2) a unit thickness, shifts of the order of F/E. The numbers below
 * come from our own plane-stress solutions of flared tabs between two blocks reaching 4 root widths (the independent
 * solver in the tests), rounded to the soft side. In-plane shifts grow with the logarithm of the block's size; parts of
 * this program are smaller than those blocks.
 */
import { cube } from '../../base/powers.ts';
import type { Mm } from '../../base/units.ts';
import { type ElasticModuli, shearModulus, torsionConstant } from './beam.ts';
import type { TabShape } from './tab-shape.ts';

/** Thickness of the metal behind each root (at least the tab's height). */
export interface Walls {
  readonly part: Mm;
  readonly frame: Mm;
}

/** Movement of a root per newton, turn per newton millimetre. */
export interface RootCompliance {
  readonly out: number;
  readonly along: number;
  readonly up: number;
  readonly twist: number;
  readonly aboutAlong: number;
  readonly aboutUp: number;
  /** How far inside the flare, from the edge, the turns act. */
  readonly inside: Mm;
}

const RIGID: RootCompliance = { out: 0, along: 0, up: 0, twist: 0, aboutAlong: 0, aboutUp: 0, inside: 0 };
export const RIGID_ROOTS = { part: RIGID, frame: RIGID } as const;

/**
 * Share of the flare's radius by which a tab counts as wider at its root: the lines of force do not follow the flare to
 * its feather edge. With this cap one turn coefficient fits all shapes tried (waist/radius 0.33 to 6).
 */
export const FLARE_SHARE = 0.5;

/** Solutions: turn 4.3-4.7 for radius/waist up to 1.5, 6.3 at 3. O'Donnell's 5.3 for a straight root; 5.3 is kept. */
const TURN = 5.3;
/** Solutions 1.4-2.2 (in-plane shift along the edge, turn taken inside the flare) and 1.55-1.87 (pull). */
const ALONG = 2.3;
const OUT = 1.9;
/**
 * Upright: the tab's lower face is flush with the part's, so the wall is a quarter, not a half: solutions 6.7-7.0 for walls
 * of five or more heights, 7.6 at three (there the next term counts too).
 */
const UPRIGHT_TURN = 7;
/** Upright shift: a quarter gives more than a half: solutions up to 11.1 for tabs as wide as long, nil for slender ones. */
const UP = 11.5;
/**
 * Turn of a thin wall as a plate: 24 (1 + nu)/(pi E T^3 (3 + nu)) (ln(R/b) + 3/2), Kirchhoff half-plate under an edge
 * moment over a length b (derived), with plate reach R = 2.7 b, so ln(R/b) = 1.
 */
const PLATE_LOG = 2.5;
/** Twist: as if the tab were longer by half its height at each end (a round shaft on a half-space: 0.15 diameters). */
const TWIST_LENGTH = 0.5;

export function rootCompliance(
  tab: TabShape,
  metal: ElasticModuli,
  walls: Walls,
): { readonly part: RootCompliance; readonly frame: RootCompliance } {
  return {
    part: complianceAt(tab, tab.cutterRadius, walls.part, metal),
    frame: complianceAt(tab, tab.frameRadius ?? tab.cutterRadius, walls.frame, metal),
  };
}

function complianceAt(tab: TabShape, radius: Mm, wall: Mm, metal: ElasticModuli): RootCompliance {
  const { modulus: e, poisson } = metal;
  const h = tab.height;
  const b = tab.waist + FLARE_SHARE * radius;
  const plate = (24 * (1 + poisson) * PLATE_LOG) / (Math.PI * e * cube(Math.max(wall, h)) * (3 + poisson));
  return {
    out: OUT / (e * h),
    along: ALONG / (e * h),
    up: UP / (e * b),
    twist: (TWIST_LENGTH * h) / (shearModulus(metal) * torsionConstant(b, h)),
    aboutAlong: UPRIGHT_TURN / (e * b * h * h) + plate,
    aboutUp: TURN / (e * h * b * b),
    inside: insideFlare(radius),
  };
}

/** Where the flare is as wide as the cap: rise = FLARE_SHARE r/2 a side. */
function insideFlare(radius: Mm): Mm {
  return radius * (1 - Math.sqrt(1 - (1 - FLARE_SHARE / 2) ** 2));
}
