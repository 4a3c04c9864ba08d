/**
 * Handbook formulas that the tests hold the model against, each by its own published example: power by specific force, whole
 * beams, a floor's first yield. Millimetres, newtons, minutes as in src/mechanics.
 */
import type { Mm, Mm2, MmPerMin, Newton, NewtonPerMm, Rad, Rpm, Stress, Watt } from '../../../src/base/units.ts';
import { engagementStraight } from '../../../src/mechanics/cutting/engagement.ts';
import { eachGauss } from '../../../src/mechanics/math/quadrature.ts';
import {
  type BeamCase,
  type BeamSection,
  beamMovement,
  type ElasticModuli,
  KAPPA,
} from '../../../src/mechanics/support/beam.ts';
import type { FloorStrip } from '../../../src/mechanics/support/floor.ts';
import { eachStation, type TabShape, widthAt } from '../../../src/mechanics/support/tab-shape.ts';

/** fz = vf / (z n). */
export function toothFeed(feed: MmPerMin, teeth: number, n: Rpm): Mm {
  return feed / (teeth * n);
}

/** Removal rate in mm3/min: ap ae vf (the handbook form divides by 1000 for cm3/min). */
export function removalRate(ap: Mm, ae: Mm, feed: MmPerMin): number {
  return ap * ae * feed;
}

/** Net cutting power, W: removal rate times specific cutting force. Mitsubishi, "Cutting power for face milling". */
export function cuttingPower(rate: number, kc: Stress): Watt {
  return (rate * kc) / MM3_PER_MIN_NMM_TO_WATT;
}

const MM3_PER_MIN_NMM_TO_WATT = 60_000;

/** Torque at the spindle in N mm for a net power at a speed. */
export function torqueOf(net: Watt, n: Rpm): number {
  return (net * 1000 * 60) / (2 * Math.PI * n);
}

/** Mean chip thickness of a side cut: hm = 2 ae fz sin(kr) / (D phi). Kyocera catalogue 2021/22 p.1070. */
export function meanChip(fz: Mm, ae: Mm, diameter: Mm, leadAngle: Rad = Math.PI / 2): Mm {
  return (2 * ae * fz * Math.sin(leadAngle)) / (diameter * engagementStraight(diameter, ae));
}

/** The slab-milling form for shallow cuts, h = fz sqrt(d/D). Ghosh & Mallik, Manufacturing Science, Example 4.16. */
export function meanChipShallow(fz: Mm, ae: Mm, diameter: Mm): Mm {
  return fz * Math.sqrt(ae / diameter);
}

/** Thickest chip over the engagement: fz from half immersion on, fz sin(phi) below. */
export function maxChip(fz: Mm, ae: Mm, diameter: Mm): Mm {
  return ae >= diameter / 2 ? fz : fz * Math.sin(engagementStraight(diameter, ae));
}

/** Area of one chip's face times kc: main force of a single edge (turning and boring form). Stated with T18. */
export function edgeForce(area: Mm2, kc: Stress): number {
  return area * kc;
}

/** Cutter centre on a circle of radius `path` round a boss; stock `ae` on the boss. Less engagement than a straight edge. */
export function engagementOutside(path: Mm, cutterRadius: Mm, ae: Mm): Rad {
  const outer = path - cutterRadius + ae;
  if (outer >= path + cutterRadius) return Math.PI;
  return Math.acos((path ** 2 + cutterRadius ** 2 - outer ** 2) / (2 * path * cutterRadius));
}

/** Way the cutter runs before a slab cut is at full depth: sqrt(d (D - d)). Groover, slab-milling problem. */
export function approachLength(depth: Mm, diameter: Mm): Mm {
  return Math.sqrt(depth * (diameter - depth));
}

/** Cowper 1966: 10 (1 + nu)/(12 + 11 nu). */
export function kappaCowper(poisson: number): number {
  return (10 * (1 + poisson)) / (12 + 11 * poisson);
}

/** Rectangle bent so that `deep` is the side in the plane of bending. */
export function rectangle(wide: Mm, deep: Mm): BeamSection {
  return { area: wide * deep, inertia: (wide * deep ** 3) / 12 };
}

export function beamStiffness(
  kind: BeamCase,
  length: Mm,
  s: BeamSection,
  metal: ElasticModuli,
  kappa: number = KAPPA,
): NewtonPerMm {
  return 1 / beamMovement(kind, 1, length, s, metal, kappa).total;
}

/** Greatest bending moment: F L, F L/2, F L/8, F L/4. */
export function greatestMoment(kind: BeamCase, load: Newton, length: Mm): number {
  return MOMENTS[kind] * load * length;
}

export function axialStiffness(length: Mm, area: Mm2, metal: ElasticModuli): NewtonPerMm {
  return (metal.modulus * area) / length;
}

const MOMENTS: Readonly<Record<BeamCase, number>> = {
  cantilever: 1,
  guided: 1 / 2,
  'fixed-centre': 1 / 8,
  'pinned-centre': 1 / 4,
};

/** Force per mm of edge at first yield: along in shear 0.577 Rp t, upwards Rp t^2/(3 s) from M = q s/2. */
export function floorCapacity(floor: FloorStrip, yieldStress: Stress): { readonly along: number; readonly up: number } {
  return {
    along: SHEAR_YIELD * yieldStress * floor.thickness,
    up: (yieldStress * floor.thickness ** 2) / (3 * floor.span),
  };
}

export const SHEAR_YIELD = 0.577;

/** Widths where the tab meets the part and the frame. */
export function rootWidths(tab: TabShape): { readonly part: Mm; readonly frame: Mm } {
  return { part: tab.waist + 2 * tab.cutterRadius, frame: tab.waist + 2 * (tab.frameRadius ?? tab.cutterRadius) };
}

/** Plan area; for equal radii and no widening 2 r w + (4 - pi) r^2. */
export function planArea(tab: TabShape): Mm2 {
  let area = 0;
  eachStation(tab, 4, (s, weight) => {
    area += weight * widthAt(tab, s);
  });
  return area;
}

/** Integral of f over [lo, hi] in `panels` equal pieces; exact to rounding for polynomials of degree 15 a piece. */
export function integrate(f: (x: number) => number, lo: number, hi: number, panels: number): number {
  let sum = 0;
  const width = (hi - lo) / panels;
  for (let p = 0; p < panels; p++) {
    eachGauss(lo + p * width, lo + (p + 1) * width, (x, weight) => {
      sum += weight * f(x);
    });
  }
  return sum;
}
