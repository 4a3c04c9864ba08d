/** The reckoned holding asked at places along the path; every spot and pass is worked out once. */
import type { Mm } from '../base/units.ts';
import type { Evaluation, HeldPart, Moment } from '../hold/holding.ts';
import { movementUnder, Workspace } from '../mechanics/held/held-state.ts';
import { weakestOnTab } from '../mechanics/held/on-tab.ts';
import { weakestUnder } from '../mechanics/held/weakest.ts';

export interface Answer {
  readonly margin: number;
  readonly wanted: number;
  readonly normal: Mm;
  readonly up: Mm;
  readonly at: readonly [Mm, Mm];
  readonly state: string;
}

export class Answers {
  private readonly reckoning: Evaluation;
  private readonly known = new Map<string, Answer>();
  private readonly work = new Workspace();

  constructor(reckoning: Evaluation) {
    this.reckoning = reckoning;
  }

  /** To the nearest spot of a part. */
  distance(part: number, p: { readonly x: Mm; readonly y: Mm }): Mm {
    const { spots } = this.reckoning.parts[part]!;
    const s = spots[nearest(spots, p)]!;
    return Math.sqrt((s.x - p.x) ** 2 + (s.y - p.y) ** 2);
  }

  nearestTab(p: { readonly x: Mm; readonly y: Mm }): number {
    let best = 0;
    let least = Number.POSITIVE_INFINITY;
    for (const { tabSpots } of this.reckoning.parts) {
      tabSpots.forEach((s, i) => {
        const d = (s.x - p.x) ** 2 + (s.y - p.y) ** 2;
        if (d < least) {
          least = d;
          best = i;
        }
      });
    }
    return best;
  }

  at(part: number, moment: Moment, p: { readonly x: Mm; readonly y: Mm }): Answer {
    const held = this.reckoning.parts[part]!;
    const spot = moment.kind === 'lightening' ? -1 : nearest(held.spots, p);
    const key = `${part} ${moment.operation} ${moment.pass} ${spot}`;
    let answer = this.known.get(key);
    if (answer === undefined) {
      answer = spot < 0 ? this.onTab(held, moment) : this.onEdge(held, moment, spot);
      this.known.set(key, answer);
    }
    return answer;
  }

  private onEdge(part: HeldPart, moment: Moment, index: number): Answer {
    const state = part.states[moment.state]!;
    const spot = part.spots[index]!;
    const forces = spot.curvature < 0 ? moment.hollowForces : moment.forces;
    const push = { spot, z: moment.z, forces };
    const { margin, wanted } = weakestUnder(this.work, state.held, push, moment.wanted.margin);
    const m = movementUnder(this.work, state.held, push, state.own[index]!, this.reckoning.hollow);
    return { margin, wanted, normal: m.normal, up: m.up, at: [spot.x, spot.y], state: state.name };
  }

  private onTab(part: HeldPart, moment: Moment): Answer {
    const state = part.states[moment.state]!;
    const spot = part.tabSpots[moment.pass]!;
    const push = { spot, z: moment.z, forces: moment.forces };
    const tab = { index: moment.pass, length: this.reckoning.slotWidth };
    const { margin, wanted } = weakestOnTab(this.work, state.held, tab, push, moment.wanted.margin);
    const m = movementUnder(this.work, state.held, push, NO_OWN, this.reckoning.hollow);
    return { margin, wanted, normal: m.normal, up: m.up, at: [spot.x, spot.y], state: state.name };
  }
}

const NO_OWN = { normal: 0, up: 0 };

function nearest(spots: readonly { readonly x: Mm; readonly y: Mm }[], p: { readonly x: Mm; readonly y: Mm }): number {
  let best = 0;
  let least = Number.POSITIVE_INFINITY;
  spots.forEach((s, i) => {
    const d = (s.x - p.x) ** 2 + (s.y - p.y) ** 2;
    if (d < least) {
      least = d;
      best = i;
    }
  });
  return best;
}
