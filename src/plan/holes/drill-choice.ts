/** Which drill makes a hole: the one aimed at, or the nearest that thread, fit or screw still allow; else what would do. */
import { fault, note, type Problem } from '../../base/problem.ts';
import { short } from '../../base/text.ts';
import type { Mm } from '../../base/units.ts';
import type { Cutter, Hole, Job } from '../../part/part.ts';
import { PILOT, REAMING_STOCK_LIGHT_OR_TOUGH, reamingStock } from '../../trade/hole-rules.ts';
import { findMaterial } from '../../trade/materials/materials.ts';
import { drillsBetween } from '../../trade/threads/drills.ts';
import { engagementOf, findThread } from '../../trade/threads/threads.ts';
import { nearestCutter, ofKind } from '../drawer.ts';
import { holeName, say } from '../words.ts';

export interface DrillChoice {
  readonly drill: Cutter;
  /** What the hole is drilled for: `for M2.5`. */
  readonly purpose: string;
  /** What the drill leaves, a line each: the engagement of a thread on both bases. */
  readonly why: readonly string[];
  /** A drill other than the one aimed at, with the reason why it will do. */
  readonly notes: readonly Problem[];
}

interface DrillRequest {
  readonly least: Mm;
  readonly wanted: Mm;
  readonly most: Mm;
  readonly purpose: string;
  /** What the limits are, for the note. */
  readonly limits: string;
}

/** How far a drill may be off the size that the job names and still be that drill: under half a stock step. */
export const SAME_SIZE: Mm = 0.005;

export function chooseDrill(job: Job, hole: Hole, path: string): DrillChoice | Problem {
  const wish = wishOf(job, hole);
  const drill = nearestCutter(job, 'drill', wish.wanted, wish.least, wish.most);
  if (!drill) return noDrill(job, hole, wish, path);
  const left = leaves(hole, drill);
  const why = left === '' ? [] : [left];
  return { drill, purpose: wish.purpose, why, notes: standInNote(job, hole, wish, drill, path) };
}

/** A pilot, where the drill is wide for the machine and the drawer has one; `PILOT` states the rule. */
export function pilotFor(job: Job, drill: Cutter): Cutter | undefined {
  if (!wantsPilot(job, drill)) return undefined;
  const { low, high } = PILOT.share;
  return nearestCutter(job, 'drill', high * drill.diameter, low * drill.diameter, high * drill.diameter);
}

export function wantsPilot(job: Job, drill: Cutter): boolean {
  return drill.diameter > PILOT.from.value && job.machine.power < PILOT.power.value;
}

/** Diameters that a drill may have before the reamer: more stock in light and tough metals. */
function beforeReaming(job: Job, nominal: Mm): { least: Mm; wanted: Mm; most: Mm } {
  const { low, high, usual } = reamingStock(nominal);
  const found = findMaterial(job.material);
  const row = found.kind === 'found' ? found.value : null;
  const lightOrTough = row?.name === 'EN-AW-6082-T6' || row?.group === 'M' || row?.group === 'plastic';
  const factor = lightOrTough ? REAMING_STOCK_LIGHT_OR_TOUGH.value : 1;
  return { least: nominal - factor * high, wanted: nominal - factor * usual, most: nominal - low };
}

function wishOf(job: Job, hole: Hole): DrillRequest {
  const make = hole.make;
  const { diameter, limits } = hole;
  switch (make.kind) {
    case 'bore':
    case 'ream': {
      const before = beforeReaming(job, make.nominal);
      return { ...before, purpose: `before the ${say(job, make.nominal)} reamer`, limits: 'what a reamer wants left' };
    }
    case 'tap':
      return { ...within(diameter, limits), purpose: `for ${make.thread}`, limits: `the thread's limits` };
    case 'clear':
      return { ...within(diameter, limits), purpose: `to clear ${make.screw}`, limits: `the ${make.series} series` };
    default:
      return { ...within(diameter, null), purpose: '', limits: '' };
  }
}

/** Without limits the size itself is asked for. */
function within(wanted: Mm, limits: Hole['limits']) {
  return { least: limits?.least ?? wanted - SAME_SIZE, wanted, most: limits?.most ?? wanted + SAME_SIZE };
}

/** Both ways of counting a thread's engagement are in use, so both are said. */
function leaves(hole: Hole, drill: Cutter): string {
  if (hole.make.kind !== 'tap') return '';
  const thread = findThread(hole.make.thread);
  if (thread.kind === 'unknown') return '';
  const overlap = engagementOf(thread.value, drill.diameter, 'overlap');
  const chart = engagementOf(thread.value, drill.diameter, 'chart');
  const both = Math.abs(overlap - chart) < 0.5 ? '' : ` (${short(chart, 0)} % on drill charts)`;
  return `leaves ${short(overlap, 0)} % of the thread's overlap${both}`;
}

function standInNote(job: Job, hole: Hole, wish: DrillRequest, drill: Cutter, path: string): Problem[] {
  if (Math.abs(drill.diameter - wish.wanted) <= SAME_SIZE) return [];
  const left = leaves(hole, drill);
  return [
    note({
      code: 'drill-nearest',
      at: { path },
      found: `${holeName(hole)} is drilled ${say(job, drill.diameter)} instead of ${say(job, wish.wanted)}, which the drawer does not have; within ${wish.limits}, ${range(job, wish)}${left === '' ? '' : `; it ${left}`}`,
    }),
  ];
}

function noDrill(job: Job, hole: Hole, wish: DrillRequest, path: string): Problem {
  const { least, most } = wish;
  const exact = most - least <= 2 * SAME_SIZE + 1e-9;
  const wanted = exact ? say(job, wish.wanted) : range(job, wish);
  const stock = drillsBetween(least, most).map((d) => d.name);
  const would = exact || stock.length === 0 ? '' : `; stock sizes that would do: ${stock.join(', ')} mm`;
  const purpose = wish.purpose === '' ? '' : ` ${wish.purpose}`;
  const mill = hole.make.kind === 'drill' ? ', or write "bore" instead of "drill" to have it milled' : '';
  return fault({
    code: 'cutter-missing',
    at: { path },
    found: `no drill of ${wanted} in the drawer for ${holeName(hole)}${purpose}${nearby(job, wish.wanted)}`,
    wanted: `a drill of ${wanted}${would}`,
    remedy: `add one to "cutters"${mill}`,
  });
}

function range(job: Job, { least, most }: DrillRequest): string {
  return `${say(job, Math.ceil(least * 1000 - 1e-6) / 1000)} to ${say(job, Math.floor(most * 1000 + 1e-6) / 1000)}`;
}

function nearby(job: Job, size: Mm): string {
  const all = ofKind(job, 'drill').map((c) => c.diameter);
  const near = all.sort((a, b) => Math.abs(a - size) - Math.abs(b - size)).slice(0, 2);
  return near.length === 0 ? ' (it has none)' : ` (its nearest: ${near.map((d) => say(job, d)).join(', ')})`;
}
