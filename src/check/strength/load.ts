/**
 * What each stretch of path asks of cutter and spindle, from the stock it removed: bending of the cutter,
 * power against the machine's; feeds are judged in `chip.ts`. The check's own small force law (Kienzle, from the trade tables); sharp figures, so that
 * only what is surely too much is refused.
 */
import { arccosine, tangent } from '../../base/angles.ts';
import { cube, power } from '../../base/powers.ts';
import { type Mm, type Newton, type Second, toRad, type Watt } from '../../base/units.ts';
import type { Job } from '../../part/part.ts';
import { findMaterial, hardestSet, type Material } from '../../trade/materials/materials.ts';
import { CUTTER_MATERIALS, FORCE_RATIOS, FORCE_WEAR } from '../../trade/milling-rules.ts';
import { findThread } from '../../trade/threads/threads.ts';
import type { Removal } from '../field/removal.ts';
import type { Findings } from '../report/findings.ts';
import { isVertical, type Stroke, spotOf } from '../strokes/stroke.ts';
import type { CheckedSetUp } from '../work.ts';
import { checkChips, cutsOnAxis } from './chip.ts';
import { checkRubbing } from './rubbing.ts';
import { type LoadStretch, stretchesOf } from './stretch.ts';
import { checkSurfaceSpeeds } from './surface-speed.ts';

/** Bending stress in the cutter over the design stress at which it is taken to break: rupture 3500-4000 over 1000 (from memory). */
const BREAKING = 3.5;
/** Stiff core of the fluted length over the diameter, as the trade table has it. */
const CORE = 0.8;

export interface Loads {
  /** Sideways forces on the work, worn cutter, of the strokes that pass `where`. */
  forces(where: (s: Stroke) => boolean): Iterable<Force>;
}

export interface Force {
  readonly stroke: Stroke;
  readonly force: Newton;
  /** Greatest depth that its stretch cuts below the stock it touched. */
  readonly depth: Mm;
  /** By whichever published set asks most, its rubbing edge included. */
  readonly worst: Newton;
  /** All the work of cutting it, sharp, in joules, and how long that takes at least. */
  readonly work: number;
  readonly seconds: Second;
}

export function checkLoads(work: CheckedSetUp, removal: Removal, out: Findings): Loads {
  const { strokes, job } = work;
  const found = findMaterial(job.material);
  if (found.kind === 'unknown') {
    out.doubt('loads', `no cutting data for ${job.material}`);
    return { forces: () => [] };
  }
  checkChips(work, found.value, removal, out);
  checkRubbing(strokes, found.value, job, removal, out);
  checkSurfaceSpeeds(strokes, found.value, job, out);
  const stretches = stretchesOf(strokes, removal, work.shelf());
  const slots = new Set<string>();
  for (const w of stretches) {
    judge(w, found.value, job, out);
    lookAtSlot(w, found.value, slots, out);
  }
  for (const s of strokes) if (s.cycle === 84 && s.step === 'feed') checkTapFeed(s, out);
  out.prove(
    'loads',
    null,
    'unsafe',
    'bending of the cutter and power of every stretch from the stock it removed, sharp cutter; only what is surely too much is refused',
  );
  return { forces: (where) => forcesIn(stretches, where, found.value) };
}

function* forcesIn(stretches: Iterable<LoadStretch>, where: (s: Stroke) => boolean, m: Material): Iterable<Force> {
  for (const w of stretches) if (where(w.stroke)) yield { stroke: w.stroke, depth: w.depth, ...forcesOf(w, m) };
}

/** What the cells of a stretch may round up: a twentieth, ten cells long and on. */
const ROUNDED = 1.05;

function judge(w: LoadStretch, m: Material, job: Job, out: Findings): void {
  const s = w.stroke;
  // A tap's chip follows from its pitch; `checkTapFeed` holds it to that.
  if (s.cycle === 84 || !(s.speed > 0 && s.feed > 0)) return;
  const c = s.tool.cutter;
  const spot = spotOf(s);
  if (cutsOnAxis(s)) return;
  // A thicker shank takes the bending over where the flutes end.
  const arm = c.shank > c.diameter ? Math.min(c.stickOut, c.fluteLength) : c.stickOut;
  const stress = (32 * sharpForce(w, m) * Math.max(0, arm - w.depth / 2)) / (Math.PI * cube(CORE * c.diameter));
  const breaks = BREAKING * CUTTER_MATERIALS[c.material].allowableBending.value;
  if (stress > breaks) {
    const found = `bending stress in cutter ${c.number} is ${stress.toFixed(0)} N/mm2`;
    const wanted = `below ${breaks.toFixed(0)}`;
    out.fault({ code: 'cutter-breaks', at: spot, found, wanted, remedy: 'cut less deep, or lower F' });
  }
  const power = powerOf(w, m);
  const available = availablePower(job, s.speed);
  // Less than a turn of the cutter tells nothing of power, and its cells least of all.
  if (power > available * ROUNDED && w.length >= s.feed / s.speed) {
    const found = `the cut takes ${power.toFixed(0)} W at the spindle`;
    const wanted = `at most ${available.toFixed(0)} W at ${s.speed} rev/min`;
    out.fault({ code: 'power', at: spot, found, wanted, remedy: 'lower F or cut less deep' });
  }
}

/** Share of the diameter from which a cut counts as a slot: the cells tell the width in the mean only. */
const SLOT_WIDTH = 0.9;
/**
 * Deepest slot in diameters. Half is the most published for roughing in aluminium, and less for other metals (HSS milling tutorial, physics 2.2);
 * half it is for those, then, and for what cuts as easily as aluminium twice that, which is surely too much for a light machine.
 */
const SLOT_DEPTH = { easy: 1, others: 0.5 } as const;

/** Once for a cutter in a program. */
export function lookAtSlot(w: LoadStretch, m: Material, told: Set<string>, out: Findings): void {
  const s = w.stroke;
  const { diameter, number } = s.tool.cutter;
  const key = `${s.program} ${number}`;
  if (isVertical(s) || s.tool.shape.pointed || w.length < diameter || told.has(key)) return;
  const most = diameter * (m.group === 'N' || m.group === 'plastic' ? SLOT_DEPTH.easy : SLOT_DEPTH.others);
  if (w.depth <= ROUNDED * most || widthOf(w) < SLOT_WIDTH * diameter) return;
  told.add(key);
  const found = `cutter ${number} cuts a slot ${w.depth.toFixed(2)} mm deep at once, ${(w.depth / diameter).toFixed(1)} diameters`;
  const wanted = `at most ${most.toFixed(2)} mm in ${m.name}; half a diameter is usual`;
  out.caution({ code: 'slot-deep', at: spotOf(s), found, wanted, remedy: 'rough in more passes' });
}

/** Width of cut that the volume tells. */
function widthOf(w: LoadStretch): Mm {
  const area = w.length > 0 ? w.volume / w.length : 0;
  return Math.min(w.stroke.tool.cutter.diameter, w.depth > 0 ? area / w.depth : 0);
}

/** Thickest chip: the feed a tooth, less where the cut is narrower than the radius (textbook). */
function chipOf(w: LoadStretch): Mm {
  const s = w.stroke;
  const tooth = s.feed / (s.speed * s.tool.cutter.flutes);
  const x = widthOf(w) / s.tool.cutter.diameter;
  return x >= 0.5 ? tooth : tooth * 2 * Math.sqrt(x - x * x);
}

/** Greatest force of a sharp tooth over the depth (Kienzle: kc11 b h^(1 - mc)). */
function sharpForce(w: LoadStretch, m: Material): Newton {
  const h = chipOf(w);
  if (!(h > 0)) return 0;
  const set = hardestSet(m, h);
  return set.kc11 * engagedLength(w) * power(h, 1 - set.mc);
}

/**
 * Length of edge in the stock at once, measured along the axis: with a helix a tooth reaches only as far up as it lags behind within the
 * angle of engagement; more teeth share it when they follow closer than that.
 */
function engagedLength(w: LoadStretch): Mm {
  const c = w.stroke.tool.cutter;
  const x = Math.min(1, Math.max(0, widthOf(w) / c.diameter));
  const engaged = arccosine(1 - 2 * x);
  const twist = (2 * tangent(toRad(Math.abs(c.helixDeg)))) / c.diameter;
  if (!(twist * w.depth > 0)) return w.depth;
  const lag = twist * w.depth;
  const teeth = Math.max(1, Math.ceil(((engaged + Math.min(lag, 2 * Math.PI)) * c.flutes) / (2 * Math.PI)));
  // At one height no more teeth are in the cut than fit into the angle of engagement.
  const atOnce = Math.max(1, Math.ceil((engaged * c.flutes) / (2 * Math.PI)));
  return Math.min(w.depth * atOnce, teeth * Math.min(w.depth, engaged / twist));
}

function forcesOf(w: LoadStretch, m: Material): Pick<Force, 'force' | 'worst' | 'work' | 'seconds'> {
  const force = sharpForce(w, m) * FORCE_WEAR.high;
  const h = chipOf(w);
  // Linear law with an edge that rubs even where the chip is thin: F = (Ktc h + Kte) b, and the same outwards.
  const edge = m.mechanistic.map((s) => Math.hypot(s.Ktc * h + s.Kte, s.Krc * h + s.Kre) * engagedLength(w));
  const worst = Math.max(force * RESULTANT, ...edge.map((f) => f * FORCE_WEAR.low));
  return { force, worst, work: workOf(w, m), seconds: w.length / (w.stroke.feed / 60) };
}

/** Resultant of the tangential and the radial force on a blunt edge. */
const RESULTANT = Math.hypot(1, FORCE_RATIOS['radial blunt'].low);

function powerOf(w: LoadStretch, m: Material): Watt {
  const seconds = w.length / (w.stroke.feed / 60);
  return workOf(w, m) / seconds;
}

/** Specific force at the mean chip times the volume, joules. */
function workOf(w: LoadStretch, m: Material): number {
  const mean = Math.max(chipOf(w) * (2 / Math.PI), 1e-4);
  const set = hardestSet(m, mean);
  return (set.kc11 * power(mean, -set.mc) * w.volume) / 1000;
}

function availablePower(job: Job, speed: number): Watt {
  const { power, efficiency, baseSpeed } = job.machine;
  return power * efficiency * Math.min(1, speed / baseSpeed);
}

/** A tap goes one pitch a turn. */
function checkTapFeed(s: Stroke, out: Findings): void {
  const pitch = pitchOf(s.tool.cutter.thread);
  if (pitch === null || !(s.speed > 0)) return;
  const turn = s.feed / s.speed;
  if (Math.abs(turn - pitch) <= 0.01 * pitch) return;
  const found = `tap ${s.tool.number} is fed ${turn.toFixed(4)} mm a turn`;
  out.fault({ code: 'tap-feed', at: spotOf(s), found, wanted: `its pitch, ${pitch}`, remedy: 'F = pitch times S' });
}

function pitchOf(thread: string | null): Mm | null {
  const found = thread === null ? null : findThread(thread);
  return found?.kind === 'found' ? found.value.pitch : null;
}
