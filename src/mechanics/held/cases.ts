/**
 * Many force vectors at one place of the part: greatest movement there and greatest stress in every tab, without garbage.
 * Vectors are flat triples [feed, left, up] as force.ts makes them.
 */
import type { Mm, Rad, Stress } from '../../base/units.ts';
import type { Vector } from '../cutting/cut.ts';
import { type HeldBody, loadAt, motionUnder, movementAt } from '../support/supports.ts';
import { peakTabStress, type TabSection } from './tab-stress.ts';

export interface WorstMovement {
  /** Greatest movement across the feed (into or out of the edge), and greatest lift or drop: both positive. */
  readonly across: Mm;
  readonly up: Mm;
  /** Greatest movement along the feed. */
  readonly along: Mm;
}

/** `feedAngle`: direction of the feed, counter-clockwise from X. */
export function worstMovement(body: HeldBody, at: Vector, feedAngle: Rad, cases: Float64Array): WorstMovement {
  const give = pointCompliance(body, at, feedAngle);
  const most = [0, 0, 0];
  for (let c = 0; c + 2 < cases.length; c += 3) {
    for (let i = 0; i < 3; i++) {
      const moved = give[3 * i]! * cases[c]! + give[3 * i + 1]! * cases[c + 1]! + give[3 * i + 2]! * cases[c + 2]!;
      if (Math.abs(moved) > most[i]!) most[i] = Math.abs(moved);
    }
  }
  return { along: most[0]!, across: most[1]!, up: most[2]! };
}

/** 3x3, mm/N: movement of the place in the axes [feed, left, up] for a unit force in each of them. Symmetric. */
export function pointCompliance(body: HeldBody, at: Vector, feedAngle: Rad): Float64Array {
  const axes = feedAxes(feedAngle);
  const out = new Float64Array(9);
  axes.forEach((force, j) => {
    const moved = movementAt(body.origin, motionUnder(body, loadAt(body.origin, at, force)), at);
    axes.forEach((axis, i) => {
      out[3 * i + j] = axis[0] * moved[0] + axis[1] * moved[1] + axis[2] * moved[2];
    });
  });
  return out;
}

/**
 * Greatest von Mises stress over the cases. `recover` is a support's 6x6 of load to local force (`recovery` in supports.ts
 * or `recover` in chain.ts), `sections` its tab's.
 */
export function worstTabStress(
  recover: Float64Array,
  sections: readonly TabSection[],
  place: { readonly origin: Vector; readonly at: Vector; readonly feedAngle: Rad },
  cases: Float64Array,
): Stress {
  const share = tabShare(recover, place);
  const load = new Float64Array(6);
  let most = 0;
  for (let c = 0; c + 2 < cases.length; c += 3) {
    for (let i = 0; i < 6; i++)
      load[i] = share[3 * i]! * cases[c]! + share[3 * i + 1]! * cases[c + 1]! + share[3 * i + 2]! * cases[c + 2]!;
    most = Math.max(most, peakTabStress(sections, load));
  }
  return most;
}

/** 6x3: local force and moment on the tab for a unit force in each of [feed, left, up]. */
function tabShare(
  recover: Float64Array,
  place: { readonly origin: Vector; readonly at: Vector; readonly feedAngle: Rad },
): Float64Array {
  const out = new Float64Array(18);
  feedAxes(place.feedAngle).forEach((force, j) => {
    const load = loadAt(place.origin, place.at, force);
    for (let i = 0; i < 6; i++) for (let k = 0; k < 6; k++) out[3 * i + j]! += recover[6 * i + k]! * load[k]!;
  });
  return out;
}

function feedAxes(angle: Rad): readonly Vector[] {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  return [
    [c, s, 0],
    [-s, c, 0],
    [0, 0, 1],
  ];
}
