/** A screen for chatter, never a proof: depth of cut against the least depth that can chatter at any speed. */
import type { Mm, NewtonPerMm, Stress } from '../base/units.ts';
import { DAMPING } from './vibration.ts';

/**
 * Tlusty: b = -1/(2 Ks Re G least), Re G least = -1/(4 k zeta (1 + zeta)) of one mode, shared by the teeth in the cut
 * (Tlusty, Manufacturing Processes and Equipment; Altintas ch. 3; from memory). Direction factors are left at 1: safe.
 */
export function leastChatterDepth(
  stiffness: NewtonPerMm,
  specific: Stress,
  teethInCut: number,
  damping: number = DAMPING,
): Mm {
  return (2 * stiffness * damping * (1 + damping)) / (specific * Math.max(1, teethInCut));
}

export type ChatterScreen = 'low' | 'medium' | 'high';

/** Under the least depth: low; up to MEDIUM times it, lobes and process damping at low speed usually save the cut. */
export function chatterScreen(depth: Mm, leastDepth: Mm): ChatterScreen {
  if (depth <= leastDepth) return 'low';
  return depth <= MEDIUM * leastDepth ? 'medium' : 'high';
}

/** Common practice: process damping at low surface speed lifts the limit several times. */
const MEDIUM = 4;
