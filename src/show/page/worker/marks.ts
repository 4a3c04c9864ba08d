/** Where the field stands too low (gouged) or too high (uncut) against what was wanted, cell by cell and gathered into places. */
import type { Mm, Mm2 } from '../../../base/units.ts';
import { centreX, centreY, type Field } from '../../../stock/field.ts';
import { OPEN, SOLID, type WantedCells } from './wanted-field.ts';

export const GOUGED = 1;
export const UNCUT = 2;

/** As the check's own limit of depth (design 4.5). */
const TOO_FAR: Mm = 0.01;
/** Fewer cells than this are the rounding of walls to cells. */
const LEAST_CELLS = 4;
const MOST_PLACES = 40;

export interface MarkedPlace {
  readonly kind: 'gouge' | 'uncut';
  readonly at: readonly [Mm, Mm];
  readonly area: Mm2;
  /** Depth of the gouge, or height of what is left, at its worst. */
  readonly worst: Mm;
  /** Width across, the longer side of its box. */
  readonly across: Mm;
  readonly cell: number;
}

/** `finished`: what is still to be cut counts as uncut; before that only gouges can be told. */
export function markCells(heights: Float32Array, wanted: WantedCells, finished: boolean, into: Uint8Array): void {
  const { judge, height } = wanted;
  for (let k = 0; k < into.length; k++) {
    const how = judge[k]!;
    let mark = 0;
    if (how === SOLID) {
      const off = heights[k]! - height[k]!;
      if (off < -TOO_FAR) mark = GOUGED;
      else if (finished && off > TOO_FAR) mark = UNCUT;
    } else if (how === OPEN && finished && heights[k]! - height[k]! > TOO_FAR) mark = UNCUT;
    into[k] = mark;
  }
}

/** Neighbouring cells with the same mark as one place each, largest first. */
export function markedPlaces(f: Field, heights: Float32Array, wanted: WantedCells, marks: Uint8Array): MarkedPlace[] {
  const seen = new Uint8Array(marks.length);
  const places: MarkedPlace[] = [];
  for (let k = 0; k < marks.length; k++) {
    if (marks[k] === 0 || seen[k] === 1) continue;
    const cells = gather(f, marks, seen, k);
    if (cells.length >= LEAST_CELLS) places.push(placeOf(f, heights, wanted, marks[k]!, cells));
  }
  return places.sort((a, b) => b.area - a.area).slice(0, MOST_PLACES);
}

function gather(f: Field, marks: Uint8Array, seen: Uint8Array, first: number): number[] {
  const mark = marks[first];
  const cells = [first];
  seen[first] = 1;
  for (let i = 0; i < cells.length; i++) {
    const k = cells[i]!;
    const col = k % f.cols;
    for (const n of [col > 0 ? k - 1 : -1, col + 1 < f.cols ? k + 1 : -1, k - f.cols, k + f.cols]) {
      if (n < 0 || n >= marks.length || seen[n] === 1 || marks[n] !== mark) continue;
      seen[n] = 1;
      cells.push(n);
    }
  }
  return cells;
}

function placeOf(
  f: Field,
  heights: Float32Array,
  wanted: WantedCells,
  mark: number,
  cells: readonly number[],
): MarkedPlace {
  let worst = 0;
  let cell = cells[0]!;
  let [c0, c1, r0, r1] = [f.cols, 0, f.rows, 0];
  for (const k of cells) {
    const off = Math.abs(heights[k]! - wanted.height[k]!);
    if (off > worst) {
      worst = off;
      cell = k;
    }
    const c = k % f.cols;
    const r = Math.floor(k / f.cols);
    c0 = Math.min(c0, c);
    c1 = Math.max(c1, c);
    r0 = Math.min(r0, r);
    r1 = Math.max(r1, r);
  }
  return {
    kind: mark === GOUGED ? 'gouge' : 'uncut',
    at: [centreX(f, cell % f.cols), centreY(f, Math.floor(cell / f.cols))],
    area: cells.length * f.cell ** 2,
    worst,
    across: (Math.max(c1 - c0, r1 - r0) + 1) * f.cell,
    cell,
  };
}
