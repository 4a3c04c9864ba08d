/**
 * Quality triangles of any regions: Delaunay refinement (Ruppert, A Delaunay refinement algorithm for quality 2-dimensional mesh
 * generation, J. Algorithms 18, 1995), driven by a wanted size as well as by angles. Pieces of lines are halved until each is an
 * edge with no vertex in its own circle; no triangle then crosses a line.
 */
import { boxed, edgeBetween, insert, previous, type Triangulation } from './delaunay.ts';
import type { Segments, SizeField } from './lines.ts';

export interface RefineRequest {
  readonly segments: Segments;
  readonly size: SizeField;
  /** Below 0: outside, not refined. */
  readonly regionAt: (x: number, y: number) => number;
  readonly most: number;
}

export type Refined = { readonly kind: 'refined'; readonly t: Triangulation } | { readonly kind: 'too-many' };

/** Ratio of circumradius to shortest edge: Ruppert's bound of sqrt 2 is 20.7 degrees, and is met with certainty. */
const MOST_RATIO = Math.SQRT2;
/** An equilateral triangle of side s has circumradius 0.58 s. */
const RADIUS_OF_SIZE = 0.75;
/** Where lines meet at small angles halving would not end: shorter pieces stay as they are. */
const SHORTEST = 0.2;

export function refine({ segments, size, regionAt, most }: RefineRequest): Refined {
  const xs = segments.x;
  const ys = segments.y;
  const t = boxed([Math.min(...xs), Math.min(...ys)], [Math.max(...xs), Math.max(...ys)]);
  const made: number[] = [];
  const at = xs.map((x, i) => insert(t, x, ys[i]!, made));
  const state: Refining = { t, size, ends: segments.ends.map(([a, b]) => [at[a]!, at[b]!]), bad: [], regionAt };
  conform(state);
  look(
    state,
    Array.from({ length: t.corners.length / 3 }, (_, i) => i),
  );
  // The middle of one piece may stand in another's way: they are looked through again until all stand.
  do {
    while (state.bad.length > 0) {
      if (t.x.length > most) return { kind: 'too-many' };
      improve(state, state.bad.pop()!);
    }
  } while (conform(state));
  return { kind: 'refined', t };
}

interface Refining {
  readonly t: Triangulation;
  readonly size: SizeField;
  readonly ends: [number, number][];
  /** Triangles to be improved, as three corners each: a place in the list may be another's by now. */
  readonly bad: (readonly [number, number, number, number])[];
  readonly regionAt: (x: number, y: number) => number;
}

/** Halves pieces of lines until each is an edge of its own circle. Whether any was. */
function conform(state: Refining): boolean {
  let any = false;
  for (let again = true; again; ) {
    again = false;
    for (let i = 0; i < state.ends.length; i++) {
      if (encroached(state.t, state.ends[i]!) && halve(state, i)) again = true;
    }
    any ||= again;
  }
  return any;
}

function encroached(t: Triangulation, [a, b]: readonly [number, number]): boolean {
  const e = edgeBetween(t, a, b);
  if (e < 0) return true;
  const apexes = [t.corners[previous(e)]!, t.twin[e]! < 0 ? -1 : t.corners[previous(t.twin[e]!)]!];
  return apexes.some((v) => v >= 0 && inOwnCircle(t, a, b, t.x[v]!, t.y[v]!));
}

function inOwnCircle(t: Triangulation, a: number, b: number, px: number, py: number): boolean {
  return (t.x[a]! - px) * (t.x[b]! - px) + (t.y[a]! - py) * (t.y[b]! - py) < 0;
}

/** false: too short to be halved. A missing edge is always halved, for it must appear. */
function halve(state: Refining, i: number): boolean {
  const { t, ends } = state;
  const [a, b] = ends[i]!;
  const x = (t.x[a]! + t.x[b]!) / 2;
  const y = (t.y[a]! + t.y[b]!) / 2;
  const length = Math.hypot(t.x[a]! - t.x[b]!, t.y[a]! - t.y[b]!);
  const shortest = SHORTEST * state.size(x, y);
  if (length < 2 * shortest && (edgeBetween(t, a, b) >= 0 || length < shortest / 50)) return false;
  const made: number[] = [];
  const v = insert(t, x, y, made);
  if (v === a || v === b) return false;
  ends[i] = [a, v];
  ends.push([v, b]);
  look(state, made);
  return true;
}

/** Puts those triangles among the bad that are too large or too thin. */
function look(state: Refining, triangles: readonly number[]): void {
  const { t } = state;
  for (const tri of triangles) {
    const [a, b, c] = [t.corners[3 * tri]!, t.corners[3 * tri + 1]!, t.corners[3 * tri + 2]!];
    if (a < 4 || b < 4 || c < 4) continue;
    const x = (t.x[a]! + t.x[b]! + t.x[c]!) / 3;
    const y = (t.y[a]! + t.y[b]! + t.y[c]!) / 3;
    const { radius, shortest } = shape(t, a, b, c);
    const wanted = state.size(x, y);
    const large = radius > RADIUS_OF_SIZE * wanted;
    const thin = radius > MOST_RATIO * shortest && shortest > SHORTEST * wanted;
    if ((large || thin) && state.regionAt(x, y) >= 0) state.bad.push([tri, a, b, c]);
  }
}

function shape(t: Triangulation, a: number, b: number, c: number) {
  const ab = Math.hypot(t.x[a]! - t.x[b]!, t.y[a]! - t.y[b]!);
  const bc = Math.hypot(t.x[b]! - t.x[c]!, t.y[b]! - t.y[c]!);
  const ca = Math.hypot(t.x[c]! - t.x[a]!, t.y[c]! - t.y[a]!);
  const area = Math.abs((t.x[b]! - t.x[a]!) * (t.y[c]! - t.y[a]!) - (t.x[c]! - t.x[a]!) * (t.y[b]! - t.y[a]!));
  return { radius: (ab * bc * ca) / (2 * area), shortest: Math.min(ab, bc, ca) };
}

/** Its circumcentre becomes a vertex, unless that would crowd a piece of a line: that is halved instead. */
function improve(state: Refining, [tri, a, b, c]: readonly [number, number, number, number]): void {
  const { t, ends } = state;
  if (t.corners[3 * tri] !== a || t.corners[3 * tri + 1] !== b || t.corners[3 * tri + 2] !== c) return;
  const [x, y] = circumcentre(t, a, b, c);
  let halved = false;
  const before = ends.length;
  for (let i = 0; i < before; i++) {
    const [p, q] = ends[i]!;
    if (inOwnCircle(t, p, q, x, y)) halved = halve(state, i) || halved;
  }
  if (halved) {
    look(state, [tri]);
    return;
  }
  if (ends.some(([p, q]) => inOwnCircle(t, p, q, x, y)) || state.regionAt(x, y) < 0) return;
  const made: number[] = [];
  insert(t, x, y, made);
  look(state, made);
}

function circumcentre(t: Triangulation, a: number, b: number, c: number): readonly [number, number] {
  const bx = t.x[b]! - t.x[a]!;
  const by = t.y[b]! - t.y[a]!;
  const cx = t.x[c]! - t.x[a]!;
  const cy = t.y[c]! - t.y[a]!;
  const d = 2 * (bx * cy - by * cx);
  const b2 = bx * bx + by * by;
  const c2 = cx * cx + cy * cy;
  return [t.x[a]! + (cy * b2 - by * c2) / d, t.y[a]! + (bx * c2 - cx * b2) / d];
}
