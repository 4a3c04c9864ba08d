/** Edges of two outlines together: lengths in closed form, and what is inside by the two alone. */
import { describe, expect, it } from 'vitest';
import { edgeOf } from '../../../src/check/wanted/edge.ts';
import { lessEdge, wallOf, withinEdge } from '../../../src/check/wanted/two-edges.ts';
import { segmentLength } from '../../../src/geometry/measure/segment.ts';
import { fromVertices } from '../../../src/geometry/shapes.ts';
import type { Point, Segment } from '../../../src/geometry/types.ts';
import type { Outline } from '../../../src/part/part.ts';
import { random, SEED } from '../../runs.ts';

const disc = (x: number, y: number, diameter: number): Outline => ({
  ...{ loop: [], inner: [] },
  source: { kind: 'circle', at: { x, y }, diameter },
});

function box(x0: number, y0: number, x1: number, y1: number): Outline {
  const made = fromVertices([
    [x0, y0],
    [x1, y0],
    [x1, y1],
    [x0, y1],
  ]);
  if (!made.ok) throw new Error('no box');
  return { loop: made.value, inner: [], source: { kind: 'vertices' } };
}

const lengthOf = (pieces: readonly Segment[]) => pieces.reduce((sum, s) => sum + segmentLength(s), 0);

/** Twice the area, by Green's theorem on short chords: right only if the pieces close and have the inside on their left. */
function areaOf(pieces: readonly Segment[]): number {
  let sum = 0;
  for (const s of pieces) {
    const n = s.kind === 'line' ? 1 : 2000;
    const at = (t: number): Point => {
      if (s.kind === 'line') return { x: s.a.x + (s.b.x - s.a.x) * t, y: s.a.y + (s.b.y - s.a.y) * t };
      const from = Math.atan2(s.a.y - s.centre.y, s.a.x - s.centre.x) + s.sweep * t;
      return { x: s.centre.x + s.radius * Math.cos(from), y: s.centre.y + s.radius * Math.sin(from) };
    };
    for (let i = 0; i < n; i++) {
      const [p, q] = [at(i / n), at((i + 1) / n)];
      sum += (p.x * q.y - q.x * p.y) / 2;
    }
  }
  return sum;
}

describe('two discs of radius 5, centres 5 apart (lens by the textbook)', () => {
  const [a, b] = [edgeOf(disc(0, 0, 10)), edgeOf(disc(5, 0, 10))];
  const lens = 50 * Math.acos(0.5) - 2.5 * Math.sqrt(75);

  it('lengths and areas', () => {
    // The chord of the crossing is seen under 120 degrees from both centres.
    expect(lengthOf(lessEdge(a, b).pieces)).toBeCloseTo(10 * Math.PI, 9);
    expect(lengthOf(withinEdge(a, b).pieces)).toBeCloseTo((20 * Math.PI) / 3, 9);
    expect(areaOf(lessEdge(a, b).pieces)).toBeCloseTo(25 * Math.PI - lens, 3);
    expect(areaOf(withinEdge(a, b).pieces)).toBeCloseTo(lens, 3);
  });

  it('inside', () => {
    const next = random(SEED);
    let seen = 0;
    for (let i = 0; i < 2000; i++) {
      const p = { x: -6 + 18 * next(), y: -6 + 12 * next() };
      const [inA, inB] = [Math.hypot(p.x, p.y) < 5, Math.hypot(p.x - 5, p.y) < 5];
      expect(lessEdge(a, b).inside(p)).toBe(inA && !inB);
      expect(withinEdge(a, b).inside(p)).toBe(inA && inB);
      seen += inA && inB ? 1 : 0;
    }
    expect(seen).toBeGreaterThan(100);
  });
});

describe('a plate 20 by 10 and a box in its upper edge', () => {
  const plate = edgeOf(box(0, 0, 20, 10));

  it.each([
    ['over the edge', 13],
    ['flush with the edge', 10],
  ])('%s', (_, top) => {
    const taken = edgeOf(box(5, 6, 9, top));
    const less = lessEdge(plate, taken);
    expect(areaOf(less.pieces)).toBeCloseTo(200 - 16, 9);
    expect(lengthOf(less.pieces)).toBeCloseTo(60 + 8, 9);
    const floor = withinEdge(taken, plate);
    expect(areaOf(floor.pieces)).toBeCloseTo(16, 9);
    expect(lengthOf(wallOf(plate, floor))).toBeCloseTo(12, 9);
  });

  it('of an outline that was cut', () => {
    const whole = box(0, 0, 20, 10);
    const cut: Outline = {
      ...whole,
      loop: [],
      cut: { drawn: whole.loop, less: [disc(20, 5, 6)], within: null },
    };
    expect(areaOf(edgeOf(cut).pieces)).toBeCloseTo(200 - (9 * Math.PI) / 2, 3);
  });
});
