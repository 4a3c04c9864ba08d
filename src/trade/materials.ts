/** The closed list of materials. */
import { nearest } from '../base/text.ts';
import { FERROUS } from './material-ferrous.ts';
import { NON_FERROUS } from './material-non-ferrous.ts';
import { type KienzleSet, MATERIAL_NAMES, type Material, type MaterialName } from './material-rows.ts';
import type { Found } from './source.ts';

export * from './material-rows.ts';

/** In the order of `MATERIAL_NAMES`. */
export const MATERIALS: readonly Material[] = [...FERROUS, ...NON_FERROUS].toSorted(
  (a, b) => MATERIAL_NAMES.indexOf(a.name) - MATERIAL_NAMES.indexOf(b.name),
);

/** Exact designation; case does not matter. */
export function findMaterial(text: string): Found<Material> {
  const value = MATERIALS.find((m) => m.name.toLowerCase() === text.trim().toLowerCase());
  return value === undefined ? { kind: 'unknown', nearest: nearest(text, MATERIAL_NAMES) } : { kind: 'found', value };
}

/** The row of a name of the closed list. */
export function material(name: MaterialName): Material {
  return MATERIALS.find((m) => m.name === name)!;
}

/** Specific cutting force at chip thickness h (mm) of a set: kc11 h^-mc, N/mm2. */
function specificForce(set: KienzleSet, h: number): number {
  return set.kc11 * h ** -set.mc;
}

/** The set with the largest cutting force at chip thickness h (mm): holding is reckoned with the worst of the published sets. */
export function hardestSet(m: Material, h: number): KienzleSet {
  return m.kienzle.reduce((a, b) => (specificForce(b, h) > specificForce(a, h) ? b : a));
}
