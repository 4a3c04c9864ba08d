/**
 * Glue against lifting, tipping and turning, and against heat. What is asked more than the job allows is listed, with the figure; what even a
 * sharp cutter asks is refused: evenly spread it is too much already, and at the rim the film bears several times the mean.
 */
import { exponential } from '../../base/powers.ts';
import type { Mm } from '../../base/units.ts';
import { loopArea } from '../../geometry/measure/loop.ts';
import { FORCE_WEAR } from '../../trade/milling-rules.ts';
import type { Findings } from '../report/findings.ts';
import type { WantedPart } from '../wanted/wanted.ts';
import type { CheckedSetUp } from '../work.ts';
import { bondFace, bondShare } from './bond-face.ts';
import { state } from './lifting.ts';
import type { Force, Loads } from './load.ts';
import { forcesOn, profileBelow, pushOf } from './pushes.ts';

/** Metal left below a slot that joins the part to the plate no more, as under tabs. */
const ALMOST_THROUGH: Mm = 1;
/** The job's allowable is derated already (design, section 5). */
const WANTED = 1;

interface GluedPart {
  readonly part: WantedPart;
  readonly margin: number;
  /** Where it is least; null where nothing pushes. */
  readonly force: Force | null;
}

/** Shear and pull as they spread under a stiff part, straight across the bond, from where the part hangs on the plate no more. */
export function proveGlue(work: CheckedSetUp, loads: Loads, out: Findings): void {
  const { hold } = work.job;
  if (hold.by !== 'glue') return;
  const allowed = { shear: hold.shear * hold.wetted, pull: hold.tension * hold.wetted };
  const bonds = work.wanted.parts.map((part) => bondOf(work, part, allowed, loads));
  // A feed that is too high is told by itself, as the cause.
  if (!out.faulty('feed-too-high', 'feed-above-machine')) for (const b of bonds) refuse(b, out);
  const how = 'with the strength the job states, and as it spreads under a stiff part; peeling at its rim is not in it';
  const least = Math.min(...bonds.map((b) => b.margin));
  state('the glue bears', least, WANTED, how, out);
  proveCool(work, hold.wetted, loads, out);
}

function bondOf(
  work: CheckedSetUp,
  part: WantedPart,
  allowed: Parameters<typeof bondShare>[2],
  loads: Loads,
): GluedPart {
  const face = bondFace(part);
  const { thickness } = work.wanted;
  const { first } = profileBelow(work, part, Math.min(0, ALMOST_THROUGH - thickness));
  let least: GluedPart = { part, margin: Infinity, force: null };
  if (first === undefined) return least;
  for (const force of forcesOn(part, loads, (s) => s.index >= first.index)) {
    const margin = 1 / Math.max(0, bondShare(face, pushOf(force, thickness), allowed));
    if (margin < least.margin) least = { part, margin, force };
  }
  return least;
}

/** The push counts a blunt cutter by the worst published set: what a sharp one asks is less by the whole of the wear, and is asked surely. */
function refuse({ part, margin, force }: GluedPart, out: Findings): void {
  if (force === null || margin * FORCE_WEAR.high >= WANTED) return;
  const { program, block, path, zb } = force.stroke;
  const sharp = force.worst / FORCE_WEAR.high;
  const found = `the glue under part ${part.index + 1} bears ${(margin * FORCE_WEAR.high).toFixed(2)} times what even a sharp cutter asks here, ${sharp.toFixed(0)} N along the plate and its pull upwards`;
  const wanted = 'at least once, by what the job says that its glue may be asked';
  const remedy = 'more glued face, or lighter passes';
  out.fault({ code: 'hold-weak', at: { program, block, at: [path.b.x, path.b.y, zb] }, found, wanted, remedy });
}

/** What a bond of cyanoacrylate bears is told up to about 80 C (from memory), so much above a warm shop. */
const WARMER = 50;
/** J/(mm3 K): the least of the materials listed, POM, 1.41 g/cm3 times 1.46 J/(g K); aluminium has 2.4e-3, steel 3.6e-3 (from memory). */
const HEAT_CAPACITY = 2e-3;
/** W/(mm2 K) through the wetted film: 0.1 W/(m K) over 0.25 mm, the widest gap of a medium grade (conductivity from memory). */
const THROUGH_FILM = 0.1e-3 / 0.25;

/** All the work of cutting beside a part as heat in it, which leaves through the glue alone, into a backing plate that stays cool. */
function proveCool(work: CheckedSetUp, wetted: number, loads: Loads, out: Findings): void {
  const most = Math.max(...work.wanted.parts.map((part) => warmest(work, part, wetted, loads)));
  const words = `were all the work of cutting to warm the part, and it to cool through the glue alone, it would be ${most.toFixed(0)} K above its backing plate`;
  if (most <= WARMER) out.prove('glue kept cool', null, 'safe', `${words}; the glue bears ${WARMER} K`);
  else
    out.doubt('glue kept cool', `${words}; the glue bears ${WARMER} K, and how much the chips carry off is not known`);
}

function warmest(work: CheckedSetUp, part: WantedPart, wetted: number, loads: Loads): number {
  const area = Math.abs(loopArea(part.loop));
  const capacity = HEAT_CAPACITY * area * work.wanted.thickness;
  const lasts = capacity / (THROUGH_FILM * area * wetted);
  let rise = 0;
  let most = 0;
  for (const f of forcesOn(part, loads, () => true)) {
    rise = rise * exponential(-f.seconds / lasts) + f.work / capacity;
    most = Math.max(most, rise);
  }
  return most;
}
