/** Steps and figures of scales. */

export interface TimeSpan {
  /** Seconds of the program, pixels of the drawing. */
  readonly total: number;
  readonly width: number;
}

/** 1, 2 or 5 times a power of ten, not less than `least`. */
export function niceStep(least: number): number {
  const ten = 10 ** Math.floor(Math.log10(least));
  return ([1, 2, 5].find((s) => s * ten >= least * (1 - 1e-9)) ?? 10) * ten;
}

const STEPS = [0.1, 0.2, 0.5, 1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 1200, 1800, 3600, 7200, 18000] as const;
/** A figure with its unit and the space beside it. */
const FIGURE_PX = 78;

/** Seconds between two figures under a curve. */
export function timeStep({ total, width }: TimeSpan): number {
  const most = Math.max(2, width / FIGURE_PX);
  return STEPS.find((s) => total / s <= most) ?? STEPS.at(-1)!;
}

export function minuteText(seconds: number): string {
  if (seconds === 0) return '0';
  if (seconds % 60 === 0) return `${seconds / 60} min`;
  return seconds < 60 ? `${Number(seconds.toFixed(1))} s` : `${Math.floor(seconds / 60)} min ${seconds % 60} s`;
}

/** Ascending places kept at least `pitch` apart, the first where it wants to be. */
export function spreadApart(places: readonly number[], pitch: number): number[] {
  const out: number[] = [];
  for (const p of places) out.push(Math.max(p, (out.at(-1) ?? -Infinity) + pitch));
  return out;
}
