/** The least margin and the most movement of a evaluated way, with the place and the pass. */
import type { Mm } from '../../base/units.ts';
import {
  type ForceSet,
  movementUnder,
  type OwnCompliance,
  type SupportLimit,
  Workspace,
} from '../../mechanics/held/held-state.ts';
import { weakestOnTab } from '../../mechanics/held/on-tab.ts';
import { weakestUnder } from '../../mechanics/held/weakest.ts';
import type { EdgeSpot } from '../../mechanics/support/edge-spot.ts';
import type { Evaluation, Moment } from '../holding.ts';
import { NO_COMPLIANCE } from './own-compliance.ts';
import { restingMargin } from './resting.ts';

export interface Judged {
  readonly margin: WorstPlace & {
    readonly least: number;
    readonly wanted: number;
    readonly limit: SupportLimit | null;
  };
  readonly movement: WorstPlace & { readonly most: Mm; readonly wanted: Mm; readonly upwards: boolean };
  readonly cutterDeflection: Mm;
  /** Movement of the edge in its normal and the cutter's own, over what is wanted, at the worst. */
  readonly together: number;
  /** Part's own give in the most movement, 0-1. */
  readonly ownShare: number;
}

export interface WorstPlace {
  readonly part: number;
  readonly moment: Moment | null;
  readonly spot: EdgeSpot | null;
}

/** `moments`: those looked at. */
export function judge(evaluation: Evaluation, moments: readonly Moment[] = evaluation.moments): Judged {
  const work = new Workspace();
  let margin: Judged['margin'] = { least: Infinity, wanted: 1, limit: null, part: 0, moment: null, spot: null };
  let movement: Judged['movement'] = { most: 0, wanted: 1, upwards: false, part: 0, moment: null, spot: null };
  let ownShare = 0;
  let together = 0;
  // The last passes are the worst most often: from them on, little is left to look at closely.
  for (const moment of moments.toReversed()) {
    const { z } = moment;
    const onTab = moment.kind === 'lightening';
    evaluation.parts.forEach((part, index) => {
      const { held, own } = part.states[moment.state]!;
      const look = (spot: EdgeSpot, forces: ForceSet, ownThere: OwnCompliance): void => {
        const push = { spot, z, forces };
        const weak = onTab
          ? weakestOnTab(work, held, { index: moment.pass, length: evaluation.slotWidth }, push, moment.wanted.margin)
          : weakestUnder(work, held, push, moment.wanted.margin, margin.least / margin.wanted);
        if (weak.index >= 0 && weak.margin / weak.wanted < margin.least / margin.wanted) {
          const limit = held.limits[weak.index] ?? null;
          margin = { least: weak.margin, wanted: weak.wanted, limit, part: index, moment, spot };
        }
        const m = movementUnder(work, held, push, ownThere, evaluation.hollow);
        const most = Math.max(m.normal, m.up);
        const wanted = moment.wanted.movement;
        together = Math.max(together, (m.normal + moment.cutterDeflection) / wanted);
        if (most / wanted > movement.most / movement.wanted) {
          movement = { most, wanted, upwards: m.up > m.normal, part: index, moment, spot };
          ownShare = m.ownShare;
        }
      };
      if (onTab) look(part.tabSpots[moment.pass]!, moment.forces, NO_COMPLIANCE);
      else part.spots.forEach((s, i) => look(s, s.curvature < 0 ? moment.hollowForces : moment.forces, own[i]!));
    });
  }
  const cutterDeflection = Math.max(0, ...moments.map((m) => m.cutterDeflection));
  return { margin, movement, cutterDeflection, together, ownShare };
}

/** As `judge`, and the margin once more with the part resting on what lies under it, in the pass that is nearest its limit. */
export function judgeResting(evaluation: Evaluation, bottom: Mm): Judged {
  const plain = judge(evaluation);
  const { moment, part } = plain.margin;
  if (evaluation.hollow || moment === null || moment.kind === 'lightening' || moment.kind === 'solid below')
    return plain;
  const { weakest, spot } = restingMargin(evaluation.parts[part]!, moment, bottom);
  if (weakest.index < 0 || weakest.margin / weakest.wanted >= plain.margin.least / plain.margin.wanted) return plain;
  const limit = evaluation.parts[part]!.states[moment.state]!.held.limits[weakest.index] ?? null;
  return { ...plain, margin: { least: weakest.margin, wanted: weakest.wanted, limit, part, moment, spot } };
}

/** Both wants met. */
export function meets(j: Judged): boolean {
  return j.margin.least >= j.margin.wanted && j.movement.most <= j.movement.wanted;
}

/** Least of what is had over what is wanted. */
export function ratioOf(j: Judged): number {
  return Math.min(
    j.margin.least / j.margin.wanted,
    j.movement.most > 0 ? j.movement.wanted / j.movement.most : Infinity,
  );
}
