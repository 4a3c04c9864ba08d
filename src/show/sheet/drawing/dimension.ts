/**
 * Running dimensions from a common origin (ISO 129-1, superimposed running dimensioning): one dimension line with a small
 * circle at the origin and an arrowhead at each value, the figure in line with its extension line. Figures too close to
 * stand side by side are moved apart, and their extension lines are cranked.
 */
import type { Mm } from '../../../base/units.ts';
import type { Point } from '../../../geometry/types.ts';
import { COLOURS } from '../style.ts';
import { circle, LETTERING, letters, polygon, polyline, stroke } from './pen.ts';

export interface DimensionFigure {
  /** The figure as written. */
  readonly text: string;
  /** Place along the dimension line, paper. */
  readonly along: Mm;
  /** Where the extension line begins, across the dimension line, paper. */
  readonly from: Mm;
  /** Key path in the plan file. */
  readonly plan?: string | undefined;
  /** Less needed figures go first when there is no room: 0 stays, 3 goes first. */
  readonly rank: number;
}

export interface DimensionLine {
  /** 'x': the line runs across below the view, figures hang below it. 'y': it runs up at the left, figures stand left of it. */
  readonly axis: 'x' | 'y';
  /** Place of the dimension line across its run. */
  readonly at: Mm;
  readonly origin: Mm;
  readonly room: readonly [Mm, Mm];
}

/** Room a row of figures takes outward from the dimension line, crank included, for figures of so many characters. */
export function figureRoom(longest: number): Mm {
  return CRANK + 1.5 + longest * LETTERING * 0.62;
}

/** Least distance between the base lines of neighbouring figures. */
const PITCH: Mm = LETTERING * 1.12;
const CRANK: Mm = 3.5;

export interface Running {
  readonly svg: string;
  /** Figures left out for want of room. */
  readonly dropped: number;
}

export function running(line: DimensionLine, marks: readonly DimensionFigure[]): Running {
  const { kept, dropped } = fitting(merged(marks), line.room);
  const ends = kept.map((m) => m.along);
  const places = spread(ends, line.room);
  const [low, high] = [Math.min(line.origin, ...ends), Math.max(line.origin, ...ends)];
  const drawn = stroke(put(line, low, 0), put(line, high, 0), 'narrow');
  const parts = kept.map((m, i) => markOf(line, m, places[i]!));
  const origin = circle(put(line, line.origin, 0), 0.9, 'narrow', COLOURS.zero, '#ffffff');
  return { svg: [drawn, ...parts, origin].join('\n'), dropped };
}

/** One figure for places that are written alike; the longest extension line serves all. */
function merged(marks: readonly DimensionFigure[]): DimensionFigure[] {
  const byText = new Map<string, DimensionFigure>();
  for (const m of marks) {
    const same = byText.get(m.text);
    const kept = same === undefined || m.rank < same.rank ? m : same;
    byText.set(m.text, { ...kept, from: Math.min(same?.from ?? m.from, m.from) });
  }
  return [...byText.values()].sort((a, b) => a.along - b.along);
}

function fitting(
  marks: readonly DimensionFigure[],
  room: readonly [Mm, Mm],
): { kept: DimensionFigure[]; dropped: number } {
  const most = Math.max(1, Math.floor((room[1] - room[0]) / PITCH) + 1);
  let kept = [...marks];
  for (let rank = 3; rank > 0 && kept.length > most; rank--) kept = kept.filter((m) => m.rank < rank);
  return { kept, dropped: marks.length - kept.length };
}

/** Ascending places moved apart to at least PITCH, as little as can be: clusters are centred on what they stand for. */
export function spread(wanted: readonly Mm[], room: readonly [Mm, Mm]): Mm[] {
  let clusters = wanted.map((w) => ({ sum: w, count: 1, middle: w }));
  for (let moved = true; moved; ) {
    moved = false;
    const next: typeof clusters = [];
    for (const c of clusters) {
      const last = next.at(-1);
      if (last !== undefined && c.middle - last.middle < (PITCH * (last.count + c.count)) / 2 - 1e-9) {
        const sum = last.sum + c.sum;
        const count = last.count + c.count;
        next[next.length - 1] = { sum, count, middle: clampMiddle(sum / count, count, room) };
        moved = true;
      } else next.push({ ...c, middle: clampMiddle(c.sum / c.count, c.count, room) });
    }
    clusters = next;
  }
  return clusters.flatMap((c) => Array.from({ length: c.count }, (_, i) => c.middle + (i - (c.count - 1) / 2) * PITCH));
}

function clampMiddle(middle: Mm, count: number, room: readonly [Mm, Mm]): Mm {
  const half = ((count - 1) * PITCH) / 2;
  return Math.max(room[0] + half, Math.min(room[1] - half, middle));
}

function markOf(line: DimensionLine, m: DimensionFigure, place: Mm): string {
  // `from` counts inward, towards the view, as a positive distance from the dimension line.
  const ext = polyline(
    [put(line, m.along, -m.from), put(line, m.along, 1), put(line, place, CRANK - 0.5), put(line, place, CRANK)],
    'narrow',
  );
  const arrow = m.along === line.origin ? '' : arrowhead(line, m.along, Math.sign(m.along - line.origin));
  return ext + arrow + figure(line, m, place);
}

function figure(line: DimensionLine, m: DimensionFigure, place: Mm): string {
  const { x, y } = put(line, place, CRANK + 0.8);
  const half = LETTERING * 0.36;
  const upright = line.axis === 'x';
  return letters(upright ? { x: x + half, y } : { x, y: y + half }, m.text, { anchor: 'end', upright, plan: m.plan });
}

/** Closed, filled and narrow (ISO 129-1), 2 mm long; it points away from the origin. */
function arrowhead(line: DimensionLine, along: Mm, towards: number): string {
  const tip = put(line, along, 0);
  const [a, b] = [put(line, along - towards * 2, 0.36), put(line, along - towards * 2, -0.36)];
  return polygon([tip, a, b], { fill: COLOURS.black, stroke: 'none' });
}

/** `out`: away from the view. */
function put(line: DimensionLine, along: Mm, out: Mm): Point {
  if (line.axis === 'x') return { x: along, y: line.at + out };
  return { x: line.at - out, y: along };
}
