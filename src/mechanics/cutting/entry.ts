/** Getting a cutter down into metal: helix and ramp. Angles are radians between the path and the horizontal. */
import type { Mm, Rad } from '../../base/units.ts';

/** Descent in one turn of a helix: pitch = pi d tan(alpha), d the diameter of the centre's path. */
export function helixPitch(pathDiameter: Mm, angle: Rad): Mm {
  return Math.PI * pathDiameter * Math.tan(angle);
}

/** Inverse of `helixPitch`. */
export function helixAngle(pathDiameter: Mm, pitch: Mm): Rad {
  return Math.atan2(pitch, Math.PI * pathDiameter);
}

/** Horizontal way that a straight ramp needs to go down by `depth`. */
export function rampLength(depth: Mm, angle: Rad): Mm {
  return depth / Math.tan(angle);
}

/** What a helix in a round hole can be. */
export type HelixEntry =
  | { readonly kind: 'fits'; readonly pathDiameter: Mm; readonly pitch: Mm; readonly turns: number }
  /** The hole is too near the cutter's size for a path; plunge or a smaller cutter. */
  | { readonly kind: 'too-tight'; readonly leastHole: Mm }
  /** One turn would leave a post in the middle; spiral outward afterwards, or start in `mostHole`. */
  | { readonly kind: 'leaves-post'; readonly mostHole: Mm };

/**
 * Helix that ends with a hole of diameter `hole`. Turns are whole, at least one, and the pitch is rounded down to fit.
 * Path diameter 0.2-0.9 of the cutter's (common practice; Kyocera p.908 gives the same rule between least and most
 * cutting diameter, with a core left above the most).
 */
export function helixEntry(hole: Mm, cutter: Mm, depth: Mm, angle: Rad): HelixEntry {
  const pathDiameter = hole - cutter;
  if (pathDiameter < HELIX_PATH_LEAST * cutter)
    return { kind: 'too-tight', leastHole: (1 + HELIX_PATH_LEAST) * cutter };
  if (pathDiameter > HELIX_PATH_MOST * cutter) return { kind: 'leaves-post', mostHole: (1 + HELIX_PATH_MOST) * cutter };
  const turns = Math.max(1, Math.ceil(depth / helixPitch(pathDiameter, angle) - 1e-9));
  return { kind: 'fits', pathDiameter, pitch: depth / turns, turns };
}

/** Path of the centre over the cutter's diameter. */
export const HELIX_PATH_LEAST = 0.2;
export const HELIX_PATH_MOST = 0.9;
