/**
 * The part cut through rests on what lies under it, which pushes but never pulls: pressed down on one side it tips about
 * that side and pulls at the tabs of the other. The worse of with and without resting counts for stress.
 */
import type { Newton } from '../../base/units.ts';
import type { Vector } from '../../mechanics/cutting/cut.ts';
import { edgeLoad, type HeldState, Workspace } from '../../mechanics/held/held-state.ts';
import { limitMargin, type Weakest } from '../../mechanics/held/weakest.ts';
import { cholesky, inverse, times } from '../../mechanics/math/matrix.ts';
import { settle, type UnilateralContact } from '../../mechanics/support/contact.ts';
import type { EdgeSpot } from '../../mechanics/support/edge-spot.ts';
import type { Support } from '../../mechanics/support/supports.ts';
import type { HeldPart, Moment } from '../holding.ts';
import { LEVEL_AXES } from '../way.ts';

/** Metal on metal under a few square millimetres, N/mm: far stiffer than any tab, so its exact size decides nothing. */
const CONTACT = 1e5;
/** Every n-th spot rests, and every n-th is looked at. */
const EVERY = 4;

export interface Resting {
  readonly weakest: Weakest;
  readonly spot: EdgeSpot | null;
}

/** Least margin of a cut-through part that rests at its lower face `z`; Infinity when no case settles. */
export function restingMargin(part: HeldPart, moment: Moment, z: number): Resting {
  const { held } = part.states[moment.state]!;
  const spots = part.spots.filter((_, i) => i % EVERY === 0);
  const body = bodySupport(held);
  let found: Resting = { weakest: { margin: Infinity, wanted: moment.wanted.margin, index: -1 }, spot: null };
  if (body === null) return found;
  const contacts = spots.map((s): UnilateralContact => ({ at: [s.x, s.y, z], push: UP, stiffness: CONTACT }));
  const work = new Workspace();
  const { triples } = moment.forces;
  for (const spot of spots) {
    for (let i = 0; i < triples.length; i += 3) {
      const push = { spot, z: moment.z, out: triples[i]!, along: triples[i + 1]!, up: triples[i + 2]! };
      const carried = restingLoad(body, contacts, held.origin, edgeLoad(held.origin, push, work.load));
      if (carried === null) continue;
      held.limits.forEach((limit, index) => {
        const margin = limitMargin(work, limit, carried, push);
        const wanted = limit.wanted ?? moment.wanted.margin;
        if (margin / wanted < found.weakest.margin / found.weakest.wanted)
          found = { weakest: { margin, wanted, index }, spot };
      });
    }
  }
  return found;
}

const UP: Vector = [0, 0, 1];

/** All supports of a state as one at its origin. */
export function bodySupport(held: HeldState): Support | null {
  const factor = cholesky(held.compliance, 6);
  if (factor.kind === 'singular') return null;
  return { at: held.origin, axes: LEVEL_AXES, stiffness: inverse(factor) };
}

/** The load that is left for the supports once the contacts have taken theirs; null when it does not settle. */
export function restingLoad(
  body: Support,
  contacts: readonly UnilateralContact[],
  origin: Vector,
  load: ArrayLike<Newton>,
): Float64Array | null {
  const settled = settle([body], contacts, origin, load);
  return settled.kind === 'settled' ? times(body.stiffness, 6, settled.motion) : null;
}
