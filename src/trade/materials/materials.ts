/** The closed list of materials. */
import { power } from '../../base/powers.ts';
import { nearest } from '../../base/text.ts';
import type { LookUp, Sourced } from '../source.ts';
import { FERROUS } from './material-ferrous.ts';
import { NON_FERROUS } from './material-non-ferrous.ts';
import { type KienzleSet, MATERIAL_NAMES, type Material, type MaterialName } from './material-rows.ts';

export * from './material-rows.ts';

/** In the order of `MATERIAL_NAMES`. */
export const MATERIALS: readonly Material[] = [...FERROUS, ...NON_FERROUS].toSorted(
  (a, b) => MATERIAL_NAMES.indexOf(a.name) - MATERIAL_NAMES.indexOf(b.name),
);

/**
 * Exact designation; case does not matter. Everyday and older names are only suggested, never taken: "brass" or "EN8"
 * does not say which strength the person has.
 */
export function findMaterial(text: string): LookUp<Material> {
  const word = text.trim().toLowerCase();
  const value = MATERIALS.find((m) => m.name.toLowerCase() === word);
  return value === undefined ? { kind: 'unknown', nearest: suggestion(word) } : { kind: 'found', value };
}

/** The row of a name of the closed list. */
export function material(name: MaterialName): Material {
  return MATERIALS.find((m) => m.name === name)!;
}

/** Specific cutting force at chip thickness h (mm) of a set: kc11 h^-mc, N/mm2. */
function specificForce(set: KienzleSet, h: number): number {
  return set.kc11 * power(h, -set.mc);
}

/** The set with the largest cutting force at chip thickness h (mm): holding is reckoned with the worst of the published sets. */
export function hardestSet(m: Material, h: number): KienzleSet {
  return m.kienzle.reduce((a, b) => (specificForce(b, h) > specificForce(a, h) ? b : a));
}

export interface EverydayName extends Sourced {
  readonly name: MaterialName;
  readonly words: readonly string[];
}

const called = (name: MaterialName, ...words: string[]): EverydayName => ({
  name,
  words,
  source: 'older BS, ASTM and shop names; near, not always equal',
  mark: 'from memory',
});

/** What people call the materials of the list, for suggestions. */
export const EVERYDAY_NAMES: readonly EverydayName[] = [
  called('11SMn30', 'en1a', '230m07', '1213', '1215', 'free-cutting steel', '9smn28', '11smnpb30', '12l14'),
  called('S275JR', 'mild steel', 'steel', 's235jr', 'en3', 'en3b', '1018', 'bms', 'st 42'),
  called('C45', 'en8', '080m40', '1045', 'ck45', 'c45e'),
  called('O1', 'gauge plate', 'tool steel', 'ground flat stock', '1.2510'),
  called('1.4305', '303', 'aisi 303'),
  called('1.4301', '304', 'aisi 304', 'stainless', 'stainless steel'),
  called('CuZn39Pb3', 'brass', 'cz121', 'cw614n', 'c38500', 'ms58'),
  called('CuSn5', 'bronze', 'phosphor bronze', 'pb102', 'cw451k', 'c51000'),
  called('EN-AW-6082-T6', 'aluminium', 'aluminum', '6082', 'he30', '6082-t6', '6061', '6061-t6'),
  called('EN-GJL-250', 'cast iron', 'grey iron', 'gg25', 'gjl-250'),
  called('POM', 'acetal', 'plastic', 'pom-c', 'pom-h'),
];

function suggestion(word: string): string | undefined {
  const everyday = EVERYDAY_NAMES.find((e) => e.words.includes(word));
  if (everyday !== undefined) return everyday.name;
  const begun = MATERIAL_NAMES.filter((n) => word.length >= 3 && n.toLowerCase().startsWith(word));
  return begun.length === 1 ? begun[0] : nearest(word, MATERIAL_NAMES);
}
