/**
 * What the outlines of a drawing may be: outer edges, openings, round holes grouped by diameter. A circle does not say
 * whether it is drilled, tapped or reamed; the tables suggest, and the person answers.
 */

import { short } from '../../base/text.ts';
import type { Mm } from '../../base/units.ts';
import type { Point } from '../../geometry/types.ts';
import { CLEARANCE_HOLES } from '../../trade/threads/clearance.ts';
import { METRIC_DRILLS } from '../../trade/threads/drills.ts';
import { THREADS } from '../../trade/threads/threads.ts';
import type { Drawing, DrawingLoop } from './drawing.ts';
import { ancestorsOf } from './heal/loops.ts';

/** What a layer is for, when the person says so. `reference`: centre lines, borders; never cut. */
export type Role = 'outline' | 'opening' | 'holes' | 'reference';

export interface Suggestion {
  readonly make: 'drill' | 'tap' | 'ream' | 'clear';
  /** Value for the job file: a diameter, or a thread or screw by name. */
  readonly value: number | string;
  readonly because: string;
}

export interface HoleGroup {
  readonly diameter: Mm;
  readonly at: readonly Point[];
  readonly loops: readonly DrawingLoop[];
  readonly suggestions: readonly Suggestion[];
  /** To put to the person. */
  readonly question: string;
}

export interface SortedPart {
  readonly outer: DrawingLoop;
  readonly openings: readonly DrawingLoop[];
  readonly holes: readonly DrawingLoop[];
}

export interface SortedDrawing {
  readonly parts: readonly SortedPart[];
  readonly holeGroups: readonly HoleGroup[];
  /** Outlines inside openings, and those of reference layers. */
  readonly left: readonly DrawingLoop[];
}

/** Diameters this near to each other or to a table are the same size: drawings round to 0.01, drills step by 0.05. */
const SAME_SIZE: Mm = 0.011;

export function sortDrawing(drawing: Drawing, roles: Readonly<Record<string, Role>> = {}): SortedDrawing {
  const roleOf = (l: DrawingLoop): Role | undefined => (Object.hasOwn(roles, l.layer) ? roles[l.layer] : undefined);
  const used = drawing.loops.filter((l) => roleOf(l) !== 'reference');
  const around = ancestorsOf(used);
  const outer = new Set(
    used.filter((l, i) => (roleOf(l) === undefined ? around[i]!.length === 0 : roleOf(l) === 'outline')),
  );
  const inside = new Map<DrawingLoop, DrawingLoop[]>([...outer].map((l) => [l, []]));
  for (const [i, l] of used.entries()) {
    const parent = used[around[i]!.at(-1) ?? -1];
    if (parent !== undefined && !outer.has(l)) inside.get(parent)?.push(l);
  }
  const isHole = (l: DrawingLoop): boolean => l.circle !== null && roleOf(l) !== 'opening';
  const parts = [...inside].map(([edge, held]): SortedPart => {
    return { outer: edge, openings: held.filter((l) => !isHole(l)), holes: inDrawnOrder(held.filter(isHole)) };
  });
  const placed = new Set(parts.flatMap((p) => [p.outer, ...p.openings, ...p.holes]));
  return {
    parts,
    holeGroups: groupHoles(parts.flatMap((p) => p.holes)),
    left: drawing.loops.filter((l) => !placed.has(l)),
  };
}

function inDrawnOrder(loops: readonly DrawingLoop[]): DrawingLoop[] {
  return loops.toSorted((p, q) => p.sources[0]!.line - q.sources[0]!.line);
}

function groupHoles(holes: readonly DrawingLoop[]): HoleGroup[] {
  const groups: DrawingLoop[][] = [];
  for (const h of holes.toSorted((p, q) => p.circle!.diameter - q.circle!.diameter)) {
    const group = groups.at(-1);
    if (group !== undefined && h.circle!.diameter - group[0]!.circle!.diameter <= SAME_SIZE) group.push(h);
    else groups.push([h]);
  }
  return groups.map((loops) => {
    const diameter = loops[0]!.circle!.diameter;
    const suggestions = suggestHole(diameter);
    return {
      diameter,
      at: loops.map((l) => l.circle!.centre),
      loops,
      suggestions,
      question: question(diameter, loops.length, suggestions),
    };
  });
}

function question(diameter: Mm, count: number, suggestions: readonly Suggestion[]): string {
  const circles = `${count} ${count === 1 ? 'circle' : 'circles'} of ${short(diameter)} mm`;
  if (suggestions.length === 0) return `${circles}: no drill, tap or reamer of that size is in the tables; bored out?`;
  return `${circles}: ${suggestions.map((s) => `${s.make} ${s.value}`).join(', ')}?`;
}

/** Every way the tables know to come by a circle of this size: plain drilling first, then the most usual. */
export function suggestHole(diameter: Mm): Suggestion[] {
  const near = (size: Mm | null): boolean => size !== null && Math.abs(size - diameter) <= SAME_SIZE;
  const found: Suggestion[] = [];
  const drill = METRIC_DRILLS.find((d) => near(d.diameter));
  if (drill !== undefined)
    found.push({ make: 'drill', value: drill.diameter, because: `a ${drill.name} mm drill is made` });
  // Hand reamers are stocked in whole and half millimetres: common practice.
  const half = Math.round(diameter * 2) / 2;
  if (near(half) && half >= 1) found.push({ make: 'ream', value: half, because: `a ${half} mm reamer is usual` });
  for (const t of THREADS)
    if (near(t.tapDrill.diameter)) found.push({ make: 'tap', value: t.name, because: `tapping drill of ${t.name}` });
  for (const t of THREADS)
    if (near(t.major))
      found.push({ make: 'tap', value: t.name, because: `drawn at the outside diameter of ${t.name}` });
  for (const c of CLEARANCE_HOLES)
    if (near(c.medium)) found.push({ make: 'clear', value: c.size, because: `medium clearance of ${c.size}` });
  return found.toSorted((p, q) => rank(p) - rank(q));
}

/** Coarse metric threads and their screws before those of other families; else the order of the tables. */
function rank(s: Suggestion): number {
  if (s.make === 'drill' || s.make === 'ream') return 0;
  return COARSE.has(String(s.value)) ? 1 : 2;
}

const COARSE = new Set(THREADS.filter((t) => t.family === 'metric coarse').map((t) => t.name));
