/**
 * What tabs or stub bear against every push of the cutter, tipping, lifting and turning included: the check's own bound, that shares
 * nothing with what chose them. The worst of the published figures on the load, least shapes on what carries.
 */
import { cosine, sine } from '../../base/angles.ts';
import { type Mm, type Newton, toRad } from '../../base/units.ts';
import type { Point } from '../../geometry/types.ts';
import { findMaterial } from '../../trade/materials/materials.ts';
import type { Findings } from '../report/findings.ts';
import { isVertical, type Stroke } from '../strokes/stroke.ts';
import type { MeasuredTab } from '../tabs/tabs.ts';
import { near } from '../wanted/clear.ts';
import type { WantedPart } from '../wanted/wanted.ts';
import type { CheckedSetUp } from '../work.ts';
import { type CollapseModes, carried, groundOf } from './collapse.ts';
import type { Force, Loads } from './load.ts';
import { BESIDE, hullOf, profileBelow, pushOf } from './pushes.ts';
import { type Bar, barAlone, barTie, type Metal } from './ties.ts';

/** Metal left below a slot that is not counted on any more, where it is a stub that stands. */
const ALMOST_THROUGH: Mm = 1;
/** Of a margin, more says no more. */
const MOST_TOLD = 100;

export function checkGrip(
  work: CheckedSetUp,
  bars: readonly MeasuredTab[],
  framed: boolean,
  loads: Loads,
  out: Findings,
): void {
  const by = work.programs[0]?.head.hold?.by;
  const metal = metalOf(work);
  if (metal === null || bars.length === 0 || (by !== 'tabs' && by !== 'stub')) return;
  const what = by === 'tabs' ? 'the tabs' : 'the stub';
  // A feed that is too high is told by itself, as the cause.
  if (out.faulty('feed-too-high', 'feed-above-machine')) return;
  const grips = work.wanted.parts.flatMap((part) => gripOf(work, part, bars, metal, loads) ?? []);
  for (const g of grips) if (g.margin < 1) tell(g, what, out);
  const worst = Math.min(...grips.map((g) => g.margin));
  if (grips.length === 0 || worst < 1) return;
  const times = worst < MOST_TOLD ? worst.toFixed(1) : `over ${MOST_TOLD}`;
  const behind = framed
    ? 'no section of the stock between them and the clamps is weaker in plain shear than is counted here; clamps are not in it'
    : 'clamps and frame are not in it';
  const says = `${what} as measured bear ${times} times the push of a blunt cutter and its upward pull before they yield, tipping and turning included; ${behind}`;
  out.prove('strength of what holds', null, 'unsafe', says);
}

export function metalOf(work: CheckedSetUp): Metal | null {
  const found = findMaterial(work.job.material);
  if (found.kind === 'unknown') return null;
  const s = found.value.strengths[0];
  return { stress: s.yield ?? s.tensile, brittle: s.yield === null };
}

function tell(g: Grip, what: string, out: Findings): void {
  const { program, block, path, zb } = g.stroke;
  const stub = what === 'the stub';
  const found = `${what} of part ${g.part.index + 1} bear${stub ? 's' : ''} ${g.margin.toFixed(2)} times what a blunt cutter asks here, ${g.force.toFixed(0)} N along the plate and its pull upwards${behindOf(g.bars)}`;
  const wanted = 'at least once';
  const remedy = remedyOf(g.bars, stub);
  out.fault({ code: 'tabs-weak', at: { program, block, at: [path.b.x, path.b.y, zb] }, found, wanted, remedy });
}

/** Words for bars that are counted on less than they are wide. */
export function behindOf(bars: readonly MeasuredTab[]): string {
  return bars.some((b) => b.frame !== undefined) ? ', counted as far as the stock behind carries it on' : '';
}

export function remedyOf(bars: readonly MeasuredTab[], stub: boolean): string {
  if (bars.some((b) => b.frame !== undefined)) return FRAME_REMEDY;
  return stub ? 'a wider stub, or lighter passes' : 'more, wider or higher tabs, or lighter passes';
}

export const FRAME_REMEDY = 'leave the stock whole between what holds the part and the clamps';

interface Grip {
  readonly part: WantedPart;
  readonly bars: readonly MeasuredTab[];
  readonly margin: number;
  readonly force: Newton;
  readonly stroke: Stroke;
}

/** Least margin from the moment on when the part stands on its bars; null where nothing pushes on it then. */
function gripOf(
  work: CheckedSetUp,
  part: WantedPart,
  all: readonly MeasuredTab[],
  metal: Metal,
  loads: Loads,
): Grip | null {
  const bars = all.filter((t) => t.tab.part === part.index);
  if (bars.length === 0) return null;
  const { thickness } = work.wanted;
  const tall = Math.max(...bars.map((t) => t.lowered[0]?.height ?? Math.min(t.height, ALMOST_THROUGH)));
  const through = profileBelow(work, part, tall - thickness);
  const { first, radius } = through;
  if (first === undefined) return null;
  const standing = standingOn(hullOf(part), bars, { thickness, radius, metal });
  let worst: Grip | null = null;
  // Where the frame is weak, whatever is cut in it pushes on it.
  const weak = Math.min(...bars.map((t) => t.frame?.from ?? Infinity));
  const counts = (s: Stroke) => s.index >= weak || (s.index >= first.index && near(s.box, part.edge.box, BESIDE));
  for (const f of loads.forces((s) => counts(s) && !isVertical(s))) {
    const margin = standing(f);
    if (worst === null || margin < worst.margin) worst = { part, bars, margin, force: f.worst, stroke: f.stroke };
  }
  return worst;
}

interface Circumstances {
  readonly thickness: Mm;
  readonly radius: Mm;
  readonly metal: Metal;
}

/** The margin of a push, each held against the bars as high as they stand when it is done. */
function standingOn(hull: readonly Point[], bars: readonly MeasuredTab[], c: Circumstances): (f: Force) => number {
  const grounds = new Map<string, CollapseModes>();
  return (f) => {
    const now = bars.map((t) => barOf(t, heightAt(t, f.stroke.index, c.thickness), c.radius, f.stroke.index));
    const key = now.map((b) => `${b.height} ${b.waist}`).join(' ');
    const known = grounds.get(key);
    const ties = () => now.map((b) => barTie(b, c.metal));
    const ground = known ?? groundOf(hull, ties());
    if (known === undefined) grounds.set(key, ground);
    const push = pushOf(f, c.thickness);
    const over = now.find((b) => isOver(b, push.at) && f.stroke.low < -c.thickness + b.height + f.depth + OVER);
    const margin = carried(ground, push);
    if (over === undefined) return margin;
    const own = barAlone(over, c.metal);
    return Math.min(margin, own.side / push.sideways, push.up > 0 ? own.up / push.up : Number.POSITIVE_INFINITY);
  };
}

/** A pass that runs so little above the bar has cut its top. */
const OVER: Mm = 0.05;

/** Of a tab when the stroke of a number is done. */
export function heightAt(t: MeasuredTab, stroke: number, thickness: Mm): Mm {
  return t.lowered.findLast((l) => l.stroke.index <= stroke)?.height ?? thickness;
}

/** After the stroke of a number; Infinity: at the end. */
export function barOf(t: MeasuredTab, height: Mm, radius: Mm, stroke: number): Bar {
  const angle = toRad(t.tab.directionDeg);
  const out = { x: cosine(angle), y: sine(angle) };
  return { at: t.tab.at, out, waist: waistAt(t, stroke), height: Math.max(0, height), radius };
}

/** As much as is counted on: what is measured further out than the stated waist may be metal that hangs on nothing. */
export function waistAt({ tab, waist, frame }: MeasuredTab, stroke: number): Mm {
  const share = frame !== undefined && stroke >= frame.from ? frame.share : 1;
  return Math.max(0, Math.min(waist, 2 * tab.width)) * share;
}

/** The cutter stands over the bar, and pushes on it before it pushes on the part. */
function isOver(b: Bar, p: Point): boolean {
  const [x, y] = [p.x - b.at.x, p.y - b.at.y];
  const outwards = x * b.out.x + y * b.out.y;
  const aside = Math.abs(y * b.out.x - x * b.out.y);
  return aside < b.waist / 2 && outwards > -b.radius && outwards < 3 * b.radius;
}
