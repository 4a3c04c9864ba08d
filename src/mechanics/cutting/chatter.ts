/** A screen for chatter, never a proof: depth of cut against the least depth that can chatter at any speed. */
import { cosine, sine } from '../../base/angles.ts';
import type { Mm, NewtonPerMm, Stress } from '../../base/units.ts';
import type { CutSpan } from './cut.ts';
import { DAMPING } from './vibration.ts';

/** What of a cut matters to chatter: the specific force, how it faces the soft direction, and how many teeth share it. */
export interface ChatterCut {
  /** Growth of the tangential force with the chip's thickness, at its mean, per mm of depth: what does not grow feeds no chatter. */
  readonly specific: Stress;
  /** Radial over tangential growth. */
  readonly radial: number;
  readonly teeth: number;
  readonly span: CutSpan;
}

/**
 * Least depth that can chatter at any speed: b = -1/(2 Ks u m Re G), with the least Re G = -1/(4 k zeta (1 + zeta)) of one
 * mode, m = z (to - from)/(2 pi) teeth in the cut on average, u the direction factor (Tlusty, Manufacturing Processes and
 * Equipment, ch. 9; Altintas, Manufacturing Automation, ch. 3; from memory).
 */
export function leastChatterDepth(stiffness: NewtonPerMm, cut: ChatterCut, damping: number = DAMPING): Mm {
  const teeth = (cut.teeth * (cut.span.to - cut.span.from)) / (2 * Math.PI);
  return (2 * stiffness * damping * (1 + damping)) / (cut.specific * directionFactor(cut) * teeth);
}

/**
 * Share of a chip's force that acts along the normal, times the share of a movement along the normal that thickens the
 * chip: the mean over the span of |sin phi cos phi| + (Fr/Ft) cos^2 phi. The tangential part is taken as driving everywhere,
 * though in half of a slot it damps: errs to the safe side.
 */
export function directionFactor({ span, radial }: Pick<ChatterCut, 'span' | 'radial'>): number {
  const mean = (f: (phi: number) => number) => {
    let sum = 0;
    for (let k = 0; k < STEPS; k++) sum += f(span.from + ((k + 0.5) * (span.to - span.from)) / STEPS);
    return sum / STEPS;
  };
  return mean((phi) => Math.abs(sine(phi) * cosine(phi)) + radial * cosine(phi) ** 2);
}

const STEPS = 180;

/** Mean chip thickness over the span, from h = fz sin phi. */
export function meanChip(toothFeed: Mm, span: CutSpan): Mm {
  return (toothFeed * (cosine(span.from) - cosine(span.to))) / (span.to - span.from);
}

export type ChatterScreen = 'low' | 'medium' | 'high';

/**
 * Under the least depth: low. Over it, short waves rub on the edge's flank and are damped by the cut itself: with more than
 * `MANY_WAVES` of them between two teeth, or up to `MEDIUM` times the depth, the cut is usually saved.
 */
export function chatterScreen(depth: Mm, leastDepth: Mm, wavesBetweenTeeth: number): ChatterScreen {
  if (depth <= leastDepth) return 'low';
  return depth <= MEDIUM * leastDepth || wavesBetweenTeeth > MANY_WAVES ? 'medium' : 'high';
}

/** Common practice: process damping lifts the limit several times. */
const MEDIUM = 4;
/** Where the zone of process damping begins, in waves between teeth: about the tenth lobe (Altintas ch. 3, from memory). */
const MANY_WAVES = 10;
