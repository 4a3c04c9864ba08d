/**
 * Spelling of figures in the job's units. A figure that also stands in the plan file carries its key path there
 * (`data-plan`), so that sheet and plan can be walked side by side.
 */
import { fixed, short } from '../../base/text.ts';
import { MM_PER_INCH, type Mm, type MmPerMin } from '../../base/units.ts';
import type { Point } from '../../geometry/types.ts';

export interface Units {
  readonly name: 'mm' | 'in';
  readonly feedName: 'mm/min' | 'in/min';
  /** A coordinate: always 3 decimals of a millimetre, 4 of an inch, as a readout shows it. */
  coord(v: Mm): string;
  /** A size, without trailing zeros. */
  size(v: Mm): string;
  feed(v: MmPerMin): string;
}

export function unitsOf(units: 'mm' | 'inch'): Units {
  return units === 'mm' ? MILLIMETRES : INCHES;
}

const MILLIMETRES: Units = {
  name: 'mm',
  feedName: 'mm/min',
  coord: (v) => fixed(v, 3),
  size: (v) => short(v, 3),
  feed: (v) => short(v, 0),
};

const INCHES: Units = {
  name: 'in',
  feedName: 'in/min',
  coord: (v) => fixed(v / MM_PER_INCH, 4),
  size: (v) => short(v / MM_PER_INCH, 4),
  feed: (v) => short(v / MM_PER_INCH, 2),
};

/** A size with its unit: `2.5 mm`. */
export function sized(u: Units, v: Mm): string {
  return `${u.size(v)} ${u.name}`;
}

/** `X 22.000  Y 15.000` */
export function placeText(u: Units, p: Point): string {
  return `X ${u.coord(p.x)} Y ${u.coord(p.y)}`;
}

/** What a figure measures, for whoever compares it with the plan file: lengths and feeds are in the sheet's units. */
export type Measures = 'length' | 'feed' | 'plain';

/** A figure that also stands in the plan file at key path `at`, e.g. `setups.0.operations.2.speed`. */
export function fig(at: string, text: string, measures: Measures = 'length'): string {
  return `<span data-plan="${at}" data-is="${measures}">${text}</span>`;
}

/** Figures in millimetres within a sentence: `0.19 mm`, `0.1 to 0.2 mm`, `2, 3 and 4 mm`. */
const IN_MM = /((?:\d+(?:\.\d+)?(?:, | and | to | by | \u00d7 ))*\d+(?:\.\d+)?) mm(?![\w/])/g;

/** A place without units: `at 47.3, 21`. */
const AT_PLACE = /\b(at )(-?\d+(?:\.\d+)?), (-?\d+(?:\.\d+)?)(?! mm)/g;

/** A sentence of an earlier stage, which speaks in millimetres, in the sheet's units. Names of cutters stay as they are sold. */
export function inProse(u: Units, text: string): string {
  if (u.name === 'mm') return text;
  const placed = text.replace(
    AT_PLACE,
    (_, at: string, x: string, y: string) => `${at}${u.size(Number(x))}, ${u.size(Number(y))}`,
  );
  return placed.replace(
    IN_MM,
    (_, figures: string) => `${figures.replace(/\d+(?:\.\d+)?/g, (v) => u.size(Number(v)))} ${u.name}`,
  );
}

/** Degrees to hundredths: finer than the graduations of any rotary table. */
export function degrees(v: number): string {
  return fixed(v, 2);
}

/** Two readings of a rotary table, both 0 to 360, with the way between them where it passes 0: `323.13° through 0° to 216.87°`. */
export function turnText(from: number, to: number): string {
  const start = from - 360 * Math.floor(from / 360 + 1e-9);
  const first = to < from && start < 1e-6 ? start + 360 : start;
  const last = first + (to - from);
  if (last > 360 + 1e-6) return `${degrees(first)}° through 0° to ${degrees(last - 360)}°`;
  if (last < -1e-6) return `${degrees(first)}° through 0° to ${degrees(last + 360)}°`;
  return `${degrees(first)}° to ${degrees(last)}°`;
}

/** `7 min 20 s` */
export function duration(seconds: number): string {
  const whole = Math.round(seconds);
  const [m, s] = [Math.floor(whole / 60), whole % 60];
  return m === 0 ? `${s} s` : `${m} min ${s < 10 ? '0' : ''}${s} s`;
}
