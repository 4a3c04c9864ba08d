/** A material by its standard designation, or a fault with the nearest known one. */
import { MATERIAL_NAMES } from '../../trade/materials/material-rows.ts';
import { findMaterial, type Material } from '../../trade/materials/materials.ts';
import type { Desk } from '../desk.ts';
import type { KeyPath } from '../schema/jsonc.ts';

export function materialOf(name: string, path: KeyPath, desk: Desk): Material | undefined {
  const found = findMaterial(name);
  if (found.kind === 'found') return found.value;
  const remedy =
    found.nearest === undefined
      ? 'write the nearest of these in strength and machining'
      : `did you mean ${found.nearest}?`;
  desk.fault({
    code: 'unknown-material',
    at: path,
    found: `material "${name}" is not in the tables`,
    wanted: MATERIAL_NAMES.join(', '),
    remedy,
  });
  return undefined;
}
