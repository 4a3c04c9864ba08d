/** Screws that hold the part down: stress area, proof load, torque. Newtons, N/mm2, N mm. */
import type { Mm, Mm2, Newton, NewtonMm, Stress } from '../../base/units.ts';
import { type Figure, type FigureRange, figure, type Sourced, type SourceMark, span } from '../source.ts';
import type { Thread } from './thread-rows.ts';

export type PropertyClass = '4.6' | '5.8' | '8.8' | '10.9' | '12.9';

/** Stress area of an external thread: pi/4 (d - 0.9382 P)^2. EN ISO 898-1. */
export function stressArea(thread: Pick<Thread, 'major' | 'pitch'>): Mm2 {
  return (Math.PI / 4) * (thread.major - 0.9382 * thread.pitch) ** 2;
}

/** Proof load: the printed figure of EN ISO 898-1 for M3-M6 coarse, else stress area times proof stress. */
export function proofLoad(thread: Thread, grade: PropertyClass): Figure {
  const printed = PROOF_LOADS.find((r) => r.size === thread.name);
  if (printed !== undefined) return figure(printed.loads[grade], printed.source, printed.mark);
  return figure(
    stressArea(thread) * PROOF_STRESS[grade].value,
    'EN ISO 898-1: stress area times proof stress',
    'computed',
  );
}

/** Tightening torque for a preload: T = K d F. Shigley. */
export function tighteningTorque(preload: Newton, diameter: Mm, torqueCoefficient: number): NewtonMm {
  return torqueCoefficient * diameter * preload;
}

const proofStress = (value: Stress): Figure => figure(value, 'EN ISO 898-1 stress under proof load', 'published');
/** Sp, N/mm2. */
export const PROOF_STRESS: Readonly<Record<PropertyClass, Figure>> = {
  '4.6': proofStress(225),
  '5.8': proofStress(380),
  '8.8': proofStress(580),
  '10.9': proofStress(830),
  '12.9': proofStress(970),
};

export interface ProofRow extends Sourced {
  readonly size: string;
  readonly loads: Readonly<Record<PropertyClass, Newton>>;
}

const row = (size: string, a: Newton, b: Newton, c: Newton, d: Newton, e: Newton): ProofRow => ({
  size,
  loads: { '4.6': a, '5.8': b, '8.8': c, '10.9': d, '12.9': e },
  source: 'EN ISO 898-1 proof loads, coarse thread, as reproduced by fastener distributors',
  mark: 'published',
});
export const PROOF_LOADS: readonly ProofRow[] = [
  row('M3', 1130, 1910, 2920, 4180, 4880),
  row('M4', 1980, 3340, 5100, 7290, 8520),
  row('M5', 3200, 5400, 8230, 11_800, 13_800),
  row('M6', 4520, 7640, 11_600, 16_700, 19_500),
];

/** K of T = K d F, by state of the thread: usual value and the spread that a low preload case must allow for. */
export const TORQUE_COEFFICIENTS: Readonly<
  Record<'dry' | 'oiled' | 'zinc' | 'black', Figure & { readonly spread: FigureRange }>
> = {
  dry: coefficient(0.2, 0.18, 0.27),
  oiled: coefficient(0.15, 0.1, 0.26),
  zinc: coefficient(0.2, 0.17, 0.35),
  black: coefficient(0.3, 0.3, 0.3),
};

/** Preload of joints that are undone again, over proof load. */
export const PRELOAD_REUSED: Figure = figure(0.75, 'Shigley, re-used joints', 'published');

/** What a short hex key in small screws really reaches, over that preload. */
export const HAND_TORQUE: Figure = figure(0.5, 'small-shop tightening with a short key', 'common practice');

/** Pull-out of a thread in a soft plate: shear strength over pi d Le, this fraction of it. */
export const PULL_OUT: Figure = figure(0.5, 'thread pull-out, tau pi d Le times one half', 'from memory');

function coefficient(value: number, low: number, high: number): Figure & { readonly spread: FigureRange } {
  const source = 'torque-coefficient tables (Shigley / Bowman data; Zip Fastener engineering data)';
  const mark: SourceMark = 'published';
  return { ...figure(value, source, mark), spread: span(low, high, source, mark) };
}
