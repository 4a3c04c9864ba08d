/** How far the cutter itself gives way, and how near it is to breaking. A stepped cantilever out of a stiff holder. */
import { cube, power } from '../../base/powers.ts';
import type { Mm, Newton, Stress } from '../../base/units.ts';
import { FLUTED_STIFFNESS_DIAMETER } from '../../trade/milling-rules.ts';

export interface CutterBeam {
  readonly diameter: Mm;
  readonly fluteLength: Mm;
  /** From the holder to the tip. */
  readonly stickOut: Mm;
  readonly shank: Mm;
  readonly modulus: Stress;
}

/** Core of a fluted length as a plain rod over the cutter's diameter: the usual figure, upper end of the table's range. */
const FLUTED_SHARE = FLUTED_STIFFNESS_DIAMETER.high;

export interface CutterDeflection {
  /** Movement of the tip. */
  readonly tip: Mm;
  /** Movement where the force acts. */
  readonly atLoad: Mm;
  /** Greatest bending stress in the fluted length and at the holder. */
  readonly stress: Stress;
}

/** Force acting `above` the tip (half the depth of cut for an even load; 0 is the safe side). */
export function cutterDeflection(beam: CutterBeam, force: Newton, above: Mm = 0): CutterDeflection {
  const core = FLUTED_SHARE * beam.diameter;
  const fluted = Math.min(beam.fluteLength, beam.stickOut);
  const arm = beam.stickOut - above;
  const parts = [
    { from: 0, to: beam.stickOut - fluted, d: beam.shank },
    { from: beam.stickOut - fluted, to: beam.stickOut, d: core },
  ];
  let tip = 0;
  let atLoad = 0;
  let stress = 0;
  for (const { from, to, d } of parts) {
    const end = Math.min(to, arm);
    if (end <= from) continue;
    const ei = beam.modulus * rodInertia(d);
    tip += (force * momentIntegral(from, end, arm, beam.stickOut)) / ei;
    atLoad += (force * momentIntegral(from, end, arm, arm)) / ei;
    stress = Math.max(stress, rodStress(force, arm - from, d));
  }
  return { tip, atLoad, stress };
}

/** Second moment of area of a round rod: pi d^4/64. */
export function rodInertia(d: Mm): number {
  return (Math.PI * power(d, 4)) / 64;
}

/** Bending stress of a round rod under force F at arm L: 32 F L/(pi d^3). */
export function rodStress(force: Newton, arm: Mm, d: Mm): Stress {
  return (32 * force * arm) / (Math.PI * cube(d));
}

/** Integral over x of (load - x)(place - x): unit-load theorem, x from the holder. */
function momentIntegral(from: Mm, to: Mm, load: Mm, place: Mm): number {
  const antiderivative = (x: number) => load * place * x - ((load + place) * x * x) / 2 + cube(x) / 3;
  return antiderivative(to) - antiderivative(from);
}
