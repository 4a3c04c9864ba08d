import { type Affine, IDENTITY } from '../curve/affine.ts';
import type { Fields } from './fields.ts';

/** Departure of an extrusion direction from the Z axis that is rounding, not a tilted entity: 1 micrometre in a metre. */
const UPRIGHT = 1e-6;

/**
 * Entity coordinates to world coordinates. By the arbitrary axis algorithm of the published format an extrusion of
 * 0,0,-1 has its X axis along -X: a mirror. Any other direction but 0,0,1 leans out of the plane and is refused.
 */
export function entityAxes(fields: Fields): Affine {
  return facesDown(fields) ? { ...IDENTITY, a: -1 } : IDENTITY;
}

/** True for extrusion 0,0,-1. */
export function facesDown(fields: Fields): boolean {
  const [x, y, z] = [fields.number(210, 0), fields.number(220, 0), fields.number(230, 1)];
  const leaning = Math.sqrt(x * x + y * y) > UPRIGHT * Math.abs(z) || z === 0;
  if (leaning && !fields.broken) {
    fields.fail(
      'tilted',
      `${fields.span.type} lies in a tilted plane: extrusion ${x}, ${y}, ${z}`,
      'entities drawn in plan: extrusion 0,0,1 or 0,0,-1',
    );
  }
  return z < 0;
}
