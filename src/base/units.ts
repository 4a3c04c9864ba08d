/**
 * Names for units. They are plain numbers to the compiler (branding every length would bury the geometry in casts),
 * but every public type and parameter says which one it is.
 *
 * Inside the program lengths are millimetres, angles are radians, time is seconds, forces newtons and stresses N/mm2.
 * Degrees appear only in job files, plan.json, program heads and on paper; names there end in `Deg` or say degrees.
 */
export type Mm = number;
export type Mm2 = number;
export type Rad = number;
export type Deg = number;
export type Newton = number;
export type NewtonMm = number;
/** N/mm2 = MPa. */
export type Stress = number;
export type NewtonPerMm = number;
export type Rpm = number;
export type MmPerMin = number;
/** Surface speed, m/min. */
export type MetrePerMin = number;
export type Watt = number;
export type Second = number;
export type Minute = number;
export type Hertz = number;

/** Exact by definition (international inch, 1959). */
export const MM_PER_INCH = 25.4;

export function toRad(deg: Deg): Rad {
  return (deg * Math.PI) / 180;
}

export function toDeg(rad: Rad): Deg {
  return (rad * 180) / Math.PI;
}
