/** Going down: how steep off a tab, and how fast a ramp and a plunge, where the cutter bites with its whole end. */
import { sine } from '../../base/angles.ts';
import { type MmPerMin, toRad } from '../../base/units.ts';
import { powerAtSpeed } from '../../mechanics/cutting/cutting.ts';
import type { Cutter, Job } from '../../part/part.ts';
import { PLUNGE_FEED, RAMP_FEED } from '../../trade/milling-rules.ts';
import type { Plan } from '../plan.ts';
import type { MillingChoice } from './milling.ts';

/**
 * Coming down off a tab: a centre-cutting cutter bites with its whole end; any other rubs with its middle, and standard
 * end mills are held to 2-5 degrees (carbide ramping page). 30 degrees at half feed for centre-cutting: common practice.
 */
export function tabRampOf(cutter: Cutter): Plan['tabRamp'] {
  return { upDeg: 45, downDeg: cutter.centreCutting ? 30 : 5 };
}

/**
 * The handbook's shares of the side feed, and never more than the motor carries: a ramp takes the area of the whole end times its fall, many
 * times what the same feed takes from the side of a shallow slot.
 */
export function downFeeds(
  job: Job,
  cutter: Cutter,
  choice: MillingChoice,
): { plungeFeed: MmPerMin; rampFeed: MmPerMin } {
  const straight = straightDown(job, cutter, choice);
  const steepest = sine(toRad(tabRampOf(cutter).downDeg));
  return {
    plungeFeed: written(Math.min(choice.feed * PLUNGE_FEED.low, straight)),
    rampFeed: written(Math.min(choice.feed * RAMP_FEED.value, straight / steepest)),
  };
}

/** The chips under the end are thinner than those at the side by four to eight times, and cost up to twice as much (exponent 0.25-0.33, Kienzle). */
const END_CHIPS = 2;

/** Fall of the whole end that the motor carries, from what the chosen cut takes for each mm3. */
function straightDown(job: Job, cutter: Cutter, choice: MillingChoice): MmPerMin {
  const { power, baseSpeed } = job.machine;
  const perVolume = choice.power / (choice.ap * choice.ae * choice.feed);
  const area = (Math.PI * cutter.diameter ** 2) / 4;
  return powerAtSpeed(power, choice.speed, baseSpeed) / (END_CHIPS * perVolume * area);
}

/** Never rounded up; whole mm/min where that is fine enough. */
function written(feed: MmPerMin): MmPerMin {
  return feed >= 1 ? Math.floor(feed) : Math.max(0.1, Math.floor(feed * 10) / 10);
}
