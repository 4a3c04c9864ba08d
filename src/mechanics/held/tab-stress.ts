/**
 * Greatest stress in a tab for a force and moment at the part's edge. Beam stresses section by section, raised by the two
 * things a beam does not know: the notch (Neuber, Kerbspannungslehre: deep hyperbolic notch) and the slope of the sides
 * (Michell's wedge, Timoshenko & Goodier, articles on the wedge loaded at its end).
 */
import { arctangent, cosine, sine, tangent } from '../../base/angles.ts';
import type { Mm, Stress } from '../../base/units.ts';
import { torsionStressFactor, vonMises } from '../support/beam.ts';
import { slopeAt, type TabShape, widthAt } from '../support/tab-shape.ts';

/** Stress per unit of each action at one section. */
export interface TabSection {
  /** From the part's edge. */
  readonly s: Mm;
  readonly pull: number;
  readonly notchedPull: number;
  readonly flatBend: number;
  readonly uprightBend: number;
  readonly shear: number;
  /** Pull along a sloping side that goes with in-plane shear. */
  readonly sideShear: number;
  readonly twist: number;
}

export interface TabStress {
  /** von Mises. */
  readonly stress: Stress;
  /** Where, from the part's edge. */
  readonly s: Mm;
  /** Greatest normal stress, for brittle metal. */
  readonly normal: Stress;
}

/** Sections worth looking at: both flares up to a slope of 60 degrees, the waist, the middle. Made once a tab. */
export function tabSections(tab: TabShape, perFlare = 10): readonly TabSection[] {
  const { slotWidth } = tab;
  const frame = tab.frameRadius ?? tab.cutterRadius;
  const places = [slotWidth / 2];
  for (let i = 0; i <= perFlare; i++) {
    const d = sine((STEEPEST * i) / perFlare);
    places.push(tab.cutterRadius * (1 - d), slotWidth - frame * (1 - d));
  }
  const within = places.filter((s) => s >= 0 && s <= slotWidth).sort((a, b) => a - b);
  return within.map((s) => sectionAt(tab, s));
}

/** Beyond this slope a section across the tab says nothing, and the stress is falling. */
const STEEPEST = Math.PI / 3;

/** Only the greatest von Mises stress of `tabStress`, the same to the last digit, without an object a section: for many cases. */
export function peakTabStress(sections: readonly TabSection[], load: ArrayLike<number>): Stress {
  let most = 0;
  const a: Actions = { ...NOTHING };
  for (const q of sections) {
    actions(q, load, a);
    const corner = a.notched + a.flat + a.upright;
    const side = a.notched + a.flat;
    const face = a.pull + a.upright;
    const upTwist = a.up + a.twist;
    const alongTwist = a.along + a.twist;
    most = Math.max(
      most,
      corner * corner,
      side * side + 3 * upTwist * upTwist,
      face * face + 3 * alongTwist * alongTwist,
    );
    // The core decides nearly nowhere, and its hypotenuse takes as long as all the rest.
    const core = a.pull * a.pull + 3 * (a.along * a.along + a.up * a.up);
    if (core * (1 + 1e-9) > most) {
      const across = Math.hypot(a.along, a.up);
      most = Math.max(most, a.pull * a.pull + 3 * across * across);
    }
  }
  return Math.sqrt(most);
}

/** `load` in the local order of tab.ts: [out, along, up, about out, about along, about up], part on tab at s = 0. */
export function tabStress(sections: readonly TabSection[], load: ArrayLike<number>): TabStress {
  let worst: TabStress = { stress: 0, s: 0, normal: 0 };
  let normal = 0;
  for (const q of sections) {
    const found = sectionStress(q, load);
    normal = Math.max(normal, found.normal);
    if (found.stress > worst.stress) worst = found;
  }
  return { ...worst, normal };
}

function sectionStress(q: TabSection, load: ArrayLike<number>): TabStress {
  const a = actions(q, load, { ...NOTHING });
  const corner = a.notched + a.flat + a.upright;
  const side = vonMises(a.notched + a.flat, a.up + a.twist);
  const face = vonMises(a.pull + a.upright, a.along + a.twist);
  const core = vonMises(a.pull, Math.hypot(a.along, a.up));
  const normal = Math.max(
    corner,
    tension(a.notched + a.flat, a.up + a.twist),
    tension(a.pull + a.upright, a.along + a.twist),
    tension(a.pull, Math.hypot(a.along, a.up)),
  );
  return { stress: Math.max(corner, side, face, core), s: q.s, normal };
}

/** Stresses of the separate actions at a section, all positive: signs are not credited against one another. */
interface Actions {
  pull: number;
  notched: number;
  flat: number;
  upright: number;
  twist: number;
  along: number;
  up: number;
}

const NOTHING: Readonly<Actions> = { pull: 0, notched: 0, flat: 0, upright: 0, twist: 0, along: 0, up: 0 };

function actions(q: TabSection, load: ArrayLike<number>, into: Actions): Actions {
  const pull = Math.abs(load[0]!);
  const along = Math.abs(load[1]!);
  into.pull = pull * q.pull;
  into.notched = pull * q.notchedPull;
  into.flat = Math.abs(load[5]! - q.s * load[1]!) * q.flatBend + along * q.sideShear;
  into.upright = Math.abs(load[4]! + q.s * load[2]!) * q.uprightBend;
  into.twist = Math.abs(load[3]!) * q.twist;
  into.along = along * q.shear;
  into.up = Math.abs(load[2]!) * q.shear;
  return into;
}

/** First principal stress of a pull with shear. */
function tension(sigma: Stress, tau: Stress): Stress {
  return sigma / 2 + Math.hypot(sigma / 2, tau);
}

function sectionAt(tab: TabShape, s: Mm): TabSection {
  const w = widthAt(tab, s);
  const h = tab.height;
  const area = w * h;
  const radius = s < tab.slotWidth / 2 ? tab.cutterRadius : (tab.frameRadius ?? tab.cutterRadius);
  const notch = notchFactors(tab.waist / 2, radius);
  return {
    s,
    pull: 1 / area,
    notchedPull: notch.pull / area,
    flatBend: (6 * notch.bend) / (w * w * h),
    uprightBend: (6 * notch.pull) / (w * h * h),
    shear: 1.5 / area,
    sideShear: (notch.pull * sideShear(slopeAt(tab, s))) / area,
    twist: torsionStressFactor(w, h),
  };
}

/**
 * Neuber's deep hyperbolic notch, half width a, notch radius rho: pull
 * 2 (k + 1) sqrt k/((k + 1) atan sqrt k + sqrt k), bending 4 k sqrt k/(3 (sqrt k + (k - 1) atan sqrt k)), k = a/rho.
 * A square corner has no finite value; SQUARE_CORNER stands for it in ductile metal (common practice).
 */
export function notchFactors(halfWidth: Mm, radius: Mm): { readonly pull: number; readonly bend: number } {
  const k = radius > 0 ? halfWidth / radius : Number.POSITIVE_INFINITY;
  if (k > MOST_NOTCH) return { pull: SQUARE_CORNER, bend: SQUARE_CORNER };
  const root = Math.sqrt(k);
  const arc = arctangent(root);
  return {
    pull: Math.min(SQUARE_CORNER, (2 * (k + 1) * root) / ((k + 1) * arc + root)),
    bend: k < 1e-4 ? 1 : Math.min(SQUARE_CORNER, (4 * k * root) / (3 * (root + (k - 1) * arc))),
  };
}

const SQUARE_CORNER = 3;
const MOST_NOTCH = 100;

/**
 * Edge stress over V/(w h) in a wedge of half-angle alpha under shear V with no moment at the section: the end load gives
 * sin 2a/(2a - sin 2a), the moment that cancels it 2 sin 2a cos^2 a/(sin 2a - 2a cos 2a), both over x = w/(2 tan a).
 */
export function sideShear(alpha: number): number {
  if (alpha < 0.02) return 2 * tangent(alpha) * FLAT_WEDGE;
  const two = 2 * alpha;
  const end = sine(two) / (two - sine(two));
  const turn = (2 * sine(two) * cosine(alpha) ** 2) / (sine(two) - two * cosine(two));
  return 2 * tangent(alpha) * (end - turn);
}

/** Limit of the difference for a slender wedge, from the series of both terms. */
const FLAT_WEDGE = 1.2;
