/** What a cutter's rhythm does to something that can swing. */
import type { Hertz, Rpm } from '../../base/units.ts';

/** Tooth-passing frequency and its multiples: k z n/60. */
export function toothPassing(n: Rpm, teeth: number, harmonics: number): readonly Hertz[] {
  return Array.from({ length: harmonics }, (_, k) => ((k + 1) * teeth * n) / 60);
}

/**
 * Movement under a steady swing of force over that under the same force at rest: 1/sqrt((1 - r^2)^2 + (2 zeta r)^2),
 * r = forcing over natural frequency (Den Hartog, Mechanical Vibrations; Thomson, Theory of Vibration).
 */
export function magnification(forcing: Hertz, natural: Hertz, damping: number = DAMPING): number {
  const r = forcing / natural;
  return 1 / Math.hypot(1 - r * r, 2 * damping * r);
}

/** Share of critical damping of clamped metal work: 0.01-0.03 common practice; the lower end is the safe one. */
export const DAMPING = 0.01;

/**
 * The harmonic that swings a mode most, the k-th taken as 1/k of the first. An estimate: the harmonics of a very short cut
 * (a spike) fall off later than that.
 */
export function worstHarmonic(
  frequencies: readonly Hertz[],
  natural: Hertz,
  damping: number = DAMPING,
): { readonly harmonic: number; readonly magnification: number } {
  let worst = { harmonic: 1, magnification: 0 };
  frequencies.forEach((f, k) => {
    const m = magnification(f, natural, damping) / (k + 1);
    if (m > worst.magnification) worst = { harmonic: k + 1, magnification: m };
  });
  return worst;
}
