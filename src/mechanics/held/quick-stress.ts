/** The stresses of tab-stress.ts over sections laid out flat, for the millions of cases of a search: the same figures, no objects. */
import type { Mm, Stress } from '../../base/units.ts';
import type { TabSection } from './tab-stress.ts';

/** What is asked of a tab's sections over and over, worked out once. */
export interface SectionTable {
  readonly list: readonly TabSection[];
  readonly flat: Float64Array;
  readonly ductile: UnitStress;
  readonly brittle: UnitStress;
}

/** Stress of a unit of each action, moments taken at the middle of the tab, the worst section for each. */
export interface UnitStress {
  readonly middle: Mm;
  readonly pull: number;
  readonly along: number;
  readonly up: number;
  readonly twist: number;
  readonly upright: number;
  readonly flat: number;
}

export function sectionTable(list: readonly TabSection[]): SectionTable {
  // A pull with shear is von Mises sqrt(s^2 + 3 t^2), its first principal stress at most s + t.
  return { list, flat: flatSections(list), ductile: unitStress(list, Math.sqrt(3)), brittle: unitStress(list, 1) };
}

/** `ofShear`: what shear counts at most. */
function unitStress(list: readonly TabSection[], ofShear: number): UnitStress {
  const middle = (list[0]!.s + list.at(-1)!.s) / 2;
  const most = (f: (q: TabSection) => number) => list.reduce((m, q) => Math.max(m, f(q)), 0);
  return {
    middle,
    pull: most((q) => Math.max(q.pull, q.notchedPull)),
    along: most((q) => Math.abs(q.s - middle) * q.flatBend + q.sideShear + ofShear * q.shear),
    up: most((q) => Math.abs(q.s - middle) * q.uprightBend + ofShear * q.shear),
    twist: most((q) => ofShear * q.twist),
    upright: most((q) => q.uprightBend),
    flat: most((q) => q.flatBend),
  };
}

/** Eight numbers a section: s, pull, notched pull, flat, upright, shear, side shear, twist. */
function flatSections(sections: readonly TabSection[]): Float64Array {
  const out = new Float64Array(8 * sections.length);
  sections.forEach((q, i) => {
    out.set([q.s, q.pull, q.notchedPull, q.flatBend, q.uprightBend, q.shear, q.sideShear, q.twist], 8 * i);
  });
  return out;
}

/** von Mises, as tab-stress.ts has it: signs of the actions are not credited against one another. */
export function quickTabStress(flat: Float64Array, f: Float64Array): Stress {
  const out = Math.abs(f[0]!);
  const along = Math.abs(f[1]!);
  const up = Math.abs(f[2]!);
  const turn = Math.abs(f[3]!);
  const f1 = f[1]!;
  const f2 = f[2]!;
  const f4 = f[4]!;
  const f5 = f[5]!;
  let most = 0;
  for (let i = 0; i < flat.length; i += 8) {
    const s = flat[i]!;
    const pull = out * flat[i + 1]!;
    const side = out * flat[i + 2]! + Math.abs(f5 - s * f1) * flat[i + 3]! + along * flat[i + 6]!;
    const upright = Math.abs(f4 + s * f2) * flat[i + 4]!;
    const shear = flat[i + 5]!;
    const twist = turn * flat[i + 7]!;
    const corner = side + upright;
    const face = pull + upright;
    const upShear = up * shear + twist;
    const alongShear = along * shear + twist;
    const a = corner * corner;
    const b = side * side + 3 * upShear * upShear;
    const c = face * face + 3 * alongShear * alongShear;
    const d = pull * pull + 3 * shear * shear * (along * along + up * up);
    if (a > most) most = a;
    if (b > most) most = b;
    if (c > most) most = c;
    if (d > most) most = d;
  }
  return Math.sqrt(most);
}

/** Greatest normal stress, which is what breaks brittle metal. Written out beside the other on purpose: a shared part would make objects, and these run millions of times. */
export function quickTabNormal(flat: Float64Array, f: Float64Array): Stress {
  const out = Math.abs(f[0]!);
  const along = Math.abs(f[1]!);
  const up = Math.abs(f[2]!);
  const turn = Math.abs(f[3]!);
  const across = Math.sqrt(along * along + up * up);
  const f1 = f[1]!;
  const f2 = f[2]!;
  const f4 = f[4]!;
  const f5 = f[5]!;
  let most = 0;
  for (let i = 0; i < flat.length; i += 8) {
    const s = flat[i]!;
    const pull = out * flat[i + 1]!;
    const side = out * flat[i + 2]! + Math.abs(f5 - s * f1) * flat[i + 3]! + along * flat[i + 6]!;
    const upright = Math.abs(f4 + s * f2) * flat[i + 4]!;
    const shear = flat[i + 5]!;
    const twist = turn * flat[i + 7]!;
    const a = side + upright;
    const b = tension(side, up * shear + twist);
    const c = tension(pull + upright, along * shear + twist);
    const d = tension(pull, across * shear);
    if (a > most) most = a;
    if (b > most) most = b;
    if (c > most) most = c;
    if (d > most) most = d;
  }
  return most;
}

/** First principal stress of a pull with shear. */
function tension(sigma: Stress, tau: Stress): Stress {
  return sigma / 2 + Math.sqrt((sigma * sigma) / 4 + tau * tau);
}
