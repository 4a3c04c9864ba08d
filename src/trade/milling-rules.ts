/** Rules for milling with small cutters on a light machine. Millimetres, degrees, N/mm2. */
import type { Mm } from '../base/units.ts';
import type { CutterMaterialName, Material } from './materials/material-rows.ts';
import { type Figure, type FigureRange, figure, span } from './source.ts';

export interface CutterMaterial {
  readonly name: CutterMaterialName;
  /** Young's modulus used, and the range quoted. */
  readonly E: Figure & { readonly range: FigureRange };
  /** Bending stress a cutter may see. */
  readonly allowableBending: Figure;
  /** g/cm3. */
  readonly density: Figure;
}

export const CUTTER_MATERIALS: Readonly<Record<CutterMaterialName, CutterMaterial>> = {
  HSS: {
    name: 'HSS',
    E: {
      ...figure(200_000, 'calculatorhub tool-deflection page quoting a handbook', 'published'),
      range: span(200_000, 215_000, 'tool steel data', 'published'),
    },
    allowableBending: figure(600, 'design stress of HSS cutters', 'from memory'),
    density: figure(8.1, 'tool material data', 'from memory'),
  },
  carbide: {
    name: 'carbide',
    E: {
      ...figure(580_000, 'calculatorhub tool-deflection page quoting a handbook', 'published'),
      range: span(550_000, 620_000, 'micrograin carbide data', 'published'),
    },
    allowableBending: figure(1000, 'a quarter of transverse rupture strength 3500-4000', 'from memory'),
    density: figure(14.5, 'tool material data', 'from memory'),
  },
};

/** Core of the fluted length over the cutting diameter; 0.7-0.8 quoted, 0.8 usual, the softer end used. */
export const FLUTED_STIFFNESS_DIAMETER: FigureRange = span(0.7, 0.8, 'end-mill maker training page', 'published');

/**
 * Under this feed a tooth the edge rubs instead of cutting: its radius is several micrometres.
 * Between the listed diameters the next smaller row holds.
 */
export function leastToothFeed(diameter: Mm): Figure {
  return LEAST_TOOTH_FEED.findLast((r) => diameter >= r.from)!;
}

/** From this diameter up. */
export interface LeastToothFeed extends Figure {
  readonly from: Mm;
}
const least = (from: Mm, feed: Mm): LeastToothFeed => ({
  from,
  ...figure(feed, 'rubbing floor of small end mills', 'common practice'),
});
export const LEAST_TOOTH_FEED: readonly LeastToothFeed[] = [least(0, 0.004), least(2, 0.008), least(4, 0.012)];

/** Start feed a tooth: fraction of the diameter by material, never under the rubbing floor. */
export function toothFeedStart(diameter: Mm, m: Material, cutter: CutterMaterialName): Figure {
  const floor = leastToothFeed(diameter);
  const wanted = m.milling[cutter].feedPerDiameter * diameter;
  return wanted < floor.value ? floor : figure(wanted, m.milling[cutter].source, m.milling[cutter].mark);
}

/** Feed a tooth of a cone that cuts near its point, where it is thin. */
export const CONE_TOOTH_FEED: FigureRange = span(
  0.01,
  0.03,
  'light cut on a cone of small diameter',
  'common practice',
);

/** Depth of cut in slots, in diameters. */
export function slotDepth(diameter: Mm, m: Material): FigureRange {
  const soft = m.group === 'N' || m.group === 'plastic';
  const source = 'depth of cut in slots with small cutters';
  if (diameter < 3)
    return soft ? span(0.25, 0.5, source, 'common practice') : span(0.1, 0.25, source, 'common practice');
  // The published limit for roughing is half a diameter for aluminium, less for others.
  return soft
    ? span(0.25, 0.5, 'HSS milling tutorial: at most D/2', 'published')
    : span(0.25, 0.5, source, 'common practice');
}

/**
 * Greatest angle of engagement in pockets, degrees: three quarters of the diameter in a straight cut. Beyond it the teeth
 * have hardly any time in the air, and a corner that doubles it is where small cutters break. An inside corner of 90 degrees takes 90 by itself.
 */
export const POCKET_ENGAGEMENT: Figure = figure(120, 'pockets with small cutters, 90-120', 'common practice');

/** Factors on surface speed. Two makers differ by far: 50 % off deep slots, 20 % off slots in general. */
export const SPEED_FACTORS: Readonly<Record<'slot' | 'deep slot', Figure>> = {
  slot: figure(0.8, 'HSS end-mill table: slotting -20 %', 'published'),
  'deep slot': figure(0.5, 'HSS end-mill table: deep slotting -50 %', 'published'),
};

/** Speeds and loads are eased when the cutter stands out more than 4 diameters; the factor is on the feed. */
export const LONG_REACH = {
  from: figure(4, 'overhang in diameters beyond which cutters are long', 'from memory'),
  factor: figure(0.7, 'feed of long cutters', 'from memory'),
};

/** Feed of the cutter centre on arcs: bounds on the geometric factor. */
export const ARC_FEED: Readonly<Record<'inside' | 'outside', Figure>> = {
  inside: figure(0.3, 'least factor on inside arcs, 0.2-0.3', 'common practice'),
  outside: figure(1.5, 'greatest factor on outside arcs, 1.5-2', 'common practice'),
};

/** Greatest chip-thinning factor on a light machine. */
export const CHIP_THINNING_CAP: Figure = figure(2.5, 'light machines 2.5-3', 'common practice');

/** Feed down a ramp over the side feed; straight plunge of a centre-cutting cutter over the side feed. */
export const RAMP_FEED: Figure = figure(0.5, 'Kyocera catalogue 2021/22 p. 908: at most half', 'published');
export const PLUNGE_FEED: FigureRange = span(0.2, 0.3, 'plunging with centre-cutting cutters', 'common practice');
/** A standard end mill's own limit of ramp angle, degrees, whatever the material. */
export const CUTTER_RAMP_LIMIT: FigureRange = span(2, 5, 'carbide-tooling ramping page', 'published');

/** Width of the cutter that goes round a small part: narrower ones bend, wider ones leave no frame and ask for torque that light motors lack at low speed. */
export const PROFILE_WIDTH: FigureRange = span(3, 6, 'end mills going round small parts', 'common practice');

/** Worn edge and HSS together, on the cutting force, for a holding check. The greater end is the safe one. */
export const FORCE_WEAR: FigureRange = span(1.5, 1.7, 'factor for HSS and wear in holding checks', 'common practice');

/** Ratios of radial and axial to tangential force: sharp and blunt edges. */
export const FORCE_RATIOS: Readonly<Record<'radial sharp' | 'radial blunt' | 'axial', FigureRange>> = {
  'radial sharp': span(0.3, 0.5, 'end-milling tests and trade', 'common practice'),
  'radial blunt': span(0.7, 1, 'end-milling tests and trade', 'common practice'),
  axial: span(0, 0.4, 'end-milling tests and trade; upward with right-hand helix', 'common practice'),
};

/** Cutter deflection that may be allowed, mm. */
export const CUTTER_DEFLECTION: Readonly<Record<'finishing' | 'roughing', Figure>> = {
  finishing: figure(0.02, 'calculatorhub tool-deflection page, 0.01-0.02', 'published'),
  roughing: figure(0.05, 'calculatorhub tool-deflection page', 'published'),
};
