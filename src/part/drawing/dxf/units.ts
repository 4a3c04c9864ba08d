import { MM_PER_INCH } from '../../../base/units.ts';

/**
 * $INSUNITS of the published DXF reference (header variables). Units no part is drawn in (miles, light years, parsecs ...)
 * are left out and refused by number: they are the sign of a wrong header.
 */
const UNITS: ReadonlyMap<number, { readonly name: string; readonly mmPerUnit: number }> = new Map([
  [1, { name: 'inch', mmPerUnit: MM_PER_INCH }],
  [2, { name: 'foot', mmPerUnit: 12 * MM_PER_INCH }],
  [4, { name: 'mm', mmPerUnit: 1 }],
  [5, { name: 'cm', mmPerUnit: 10 }],
  [6, { name: 'm', mmPerUnit: 1000 }],
  [8, { name: 'microinch', mmPerUnit: MM_PER_INCH / 1e6 }],
  [9, { name: 'mil', mmPerUnit: MM_PER_INCH / 1000 }],
  [10, { name: 'yard', mmPerUnit: 36 * MM_PER_INCH }],
  [12, { name: 'nm', mmPerUnit: 1e-6 }],
  [13, { name: 'micrometre', mmPerUnit: 1e-3 }],
  [14, { name: 'dm', mmPerUnit: 100 }],
]);

export function insertUnits(code: number): { readonly name: string; readonly mmPerUnit: number } | undefined {
  return UNITS.get(code);
}
