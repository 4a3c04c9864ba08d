/**
 * The smallest pieces of the job file's schema. Units are converted here, once, at the door: a schema is built for the
 * units of its file, and what it hands on is millimetres. Plain numbers (degrees, watts, fractions, revolutions) are left
 * alone because they are made by `number`, not by a length.
 */
import * as z from 'zod';

/** Millimetres in one unit of the file: 1 or 25.4. */
export type Scale = number;

/** Longest length a file may state; a light mill's table ends long before, and the offset engine's fast range at 474 mm. */
const LONGEST_UNITS = 10_000;

/** Any place along an axis. */
export function coordinate(scale: Scale, description: string) {
  return z
    .number()
    .min(-LONGEST_UNITS)
    .max(LONGEST_UNITS)
    .transform((v) => v * scale)
    .meta({ description });
}

/** A size: more than nothing. */
export function size(scale: Scale, description: string) {
  return z
    .number()
    .positive()
    .max(LONGEST_UNITS)
    .transform((v) => v * scale)
    .meta({ description });
}

/** A length that may be nothing. */
export function extent(scale: Scale, description: string) {
  return z
    .number()
    .nonnegative()
    .max(LONGEST_UNITS)
    .transform((v) => v * scale)
    .meta({ description });
}

/** Feeds and accelerations: a length a unit of time. */
export function rate(scale: Scale, description: string) {
  return z
    .number()
    .positive()
    .max(1_000_000)
    .transform((v) => v * scale)
    .meta({ description });
}

/** x and y. */
export function point(scale: Scale, description: string) {
  return z
    .tuple([coordinate(scale, 'x'), coordinate(scale, 'y')])
    .transform(([x, y]) => ({ x, y }))
    .meta({ description });
}

/** x and y sizes and a third. */
export function sizes(scale: Scale, description: string) {
  return z.tuple([size(scale, 'along x'), size(scale, 'along y'), size(scale, 'along z')]).meta({ description });
}

/** A whole number from `least` up. */
export function whole(least: number, description: string, most = 1000) {
  return z.int().min(least).max(most).meta({ description });
}

/** A number without a length in it. */
export function number(least: number, most: number, description: string) {
  return z.number().min(least).max(most).meta({ description });
}

/** A number above nothing without a length in it. */
export function positive(most: number, description: string) {
  return z.number().positive().max(most).meta({ description });
}

export function text(description: string, longest = 200) {
  return z.string().trim().min(1).max(longest).meta({ description });
}

export function flag(description: string) {
  return z.boolean().meta({ description });
}

export function choice<const T extends readonly [string, ...string[]]>(values: T, description: string) {
  return z.enum(values).meta({ description });
}
