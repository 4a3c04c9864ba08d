/** Drawings out: what is written reads back as the same numbers, by our own readers and by an independent DXF parser. */
import { Helper } from 'dxf';
import { describe, expect, test } from 'vitest';
import type { Outcome } from '../../../src/base/problem.ts';
import { bossesAndWebs } from '../../../src/geometry/bosses.ts';
import { dist } from '../../../src/geometry/measure/point.ts';
import { bulgeOf, circle } from '../../../src/geometry/measure/segment.ts';
import { fromVertices, slot } from '../../../src/geometry/shapes.ts';
import type { Loop } from '../../../src/geometry/types.ts';
import { jobFromDrawing } from '../../../src/part/drawing/draft.ts';
import type { Drawing } from '../../../src/part/drawing/drawing.ts';
import { pickOutline } from '../../../src/part/drawing/pick.ts';
import { readDrawing } from '../../../src/part/drawing/read.ts';
import type { DrawingContents } from '../../../src/show/drawing/contents.ts';
import { outlineDxf } from '../../../src/show/drawing/dxf.ts';
import { exact } from '../../../src/show/drawing/exact.ts';
import { outlineSvg } from '../../../src/show/drawing/svg.ts';
import { random, runs, SEED } from '../../runs.ts';

function must<T>(o: Outcome<T>): T {
  if (!o.ok) throw new Error(JSON.stringify(o.problems, null, 1));
  return o.value;
}

const WAYS = [
  ['dxf', outlineDxf, 'OUTLINE'],
  ['svg', outlineSvg, 'outline'],
] as const;

function readBack(format: 'dxf' | 'svg', text: string): Drawing {
  return must(readDrawing(text, { format, units: 'inch' }));
}

/** A star-shaped edge about a random centre: some sides bulge in or out, so it stays simple enough to be an outline. */
function randomOutline(rnd: () => number): Loop {
  const n = 3 + Math.floor(rnd() * 9);
  const [cx, cy] = [200 * rnd() - 100, 200 * rnd() - 100];
  const vertices = Array.from({ length: n }, (_, i): [number, number, number] => {
    const angle = ((i + 0.6 * rnd()) * 2 * Math.PI) / n;
    const r = 8 + 20 * rnd();
    const bulge = rnd() < 0.4 ? 0 : rnd() < 0.1 ? 1 : 1.2 * rnd() - 0.3;
    return [cx + r * Math.cos(angle), cy + r * Math.sin(angle), bulge];
  });
  return must(fromVertices(vertices));
}

const lever = must(
  bossesAndWebs({
    bosses: [
      { at: { x: 0, y: 0 }, radius: 6 },
      { at: { x: 32, y: 0 }, radius: 4 },
    ],
    webs: [[0, 1]],
    fillet: 0,
  }),
);
const contents: DrawingContents = {
  name: 'lifting lever & "catch"',
  outlines: [lever],
  openings: [must(slot({ x: 8, y: 0 }, { x: 20, y: 0 }, 3))],
  holes: [
    { at: { x: 0, y: 0 }, diameter: 5 },
    { at: { x: 32, y: 0 }, diameter: 2.05 },
  ],
  tabs: [{ at: { x: 36, y: 0 }, direction: 0, width: 2 }],
};

describe.each(WAYS)('%s', (format, write, name) => {
  const pick = format === 'dxf' ? { layer: name } : { id: name };

  test('random outlines come back: vertices and centres within 1e-6 mm, lines lines, arcs arcs, in the same order', () => {
    const rnd = random(SEED);
    let arcs = 0;
    let worst = 0;
    for (let i = 0; i < runs(10_000); i++) {
      const loop = randomOutline(rnd);
      const drawing = readBack(format, write({ name: 'law', outlines: [loop] }));
      const back = drawing.loops[0]!.loop;
      expect(drawing.loops, `outline ${i}`).toHaveLength(1);
      expect(back.map((s) => s.kind)).toEqual(loop.map((s) => s.kind));
      for (const [k, s] of loop.entries()) {
        const b = back[k]!;
        worst = Math.max(worst, dist(s.a, b.a), dist(s.b, b.b));
        if (s.kind === 'arc' && b.kind === 'arc') {
          arcs++;
          worst = Math.max(worst, dist(s.centre, b.centre), Math.abs(s.radius - b.radius));
          expect(b.sweep).toBeCloseTo(s.sweep, 6);
        }
      }
      expect(worst).toBeLessThan(1e-6);
    }
    expect(arcs).toBeGreaterThan(runs(10_000));
  });

  test('a job goes out and comes back with its numbers: outline, holes, and their place', () => {
    const drawing = readBack(format, write({ ...contents, openings: [], tabs: [] }));
    expect(drawing.units).toMatchObject({ mmPerUnit: 1, from: 'drawing' });
    expect(drawing.defects).toEqual([]);
    const { part, units } = must(jobFromDrawing(drawing, 'lifting lever'));
    expect(units).toBe('mm');
    expect(part.holes).toEqual([
      { at: [0, 0], drill: 5 },
      { at: [32, 0], drill: 2.05 },
    ]);
    const vertices = 'vertices' in part.outline ? part.outline.vertices : [];
    expect(vertices).toHaveLength(lever.length);
    // Written to a millionth of a millimetre.
    for (const [i, [x, y, bulge]] of vertices.entries()) {
      expect(Math.hypot(x - lever[i]!.a.x, y - lever[i]!.a.y)).toBeLessThan(1e-6);
      expect(Math.abs((bulge ?? 0) - bulgeOf(lever[i]!))).toBeLessThan(1e-11);
    }
    // A second time round changes nothing more.
    const again = must(fromVertices(vertices));
    const twice = must(jobFromDrawing(readBack(format, write({ name: 'again', outlines: [again] })), 'again')).part
      .outline;
    expect('vertices' in twice && twice.vertices.map(([x, y]) => [x, y])).toEqual(vertices.map(([x, y]) => [x, y]));
  });

  test('the outline is found under its name, with openings and holes inside', () => {
    const drawing = readBack(format, write(contents));
    expect(must(pickOutline(drawing, pick)).outer).toHaveLength(4);
    expect(drawing.circles.map((c) => c.circle!.diameter)).toEqual([5, 2.05]);
    expect(drawing.loops).toHaveLength(4);
    expect(drawing.open).toEqual([]);
    expect(drawing.ignored['lines that mark tabs']).toBe(1);
  });

  test('a disc is a circle', () => {
    const drawing = readBack(format, write({ name: 'disc', outlines: [[circle({ x: 3, y: -4 }, 7.5)]] }));
    expect(drawing.circles[0]!.circle).toEqual({ centre: { x: 3, y: -4 }, diameter: 15 });
  });

  test('same contents, same bytes', () => {
    expect(write(contents)).toBe(write(structuredClone(contents)));
  });
});

test('an independent DXF parser (dxf 5.3.1) reads the same vertices, bulges, circles and layers', () => {
  const { parsed } = new Helper(outlineDxf(contents));
  const entities = parsed!.entities as readonly {
    type: string;
    layer: string;
    vertices: { x: number; y: number; bulge?: number }[];
    closed: boolean;
    r: number;
    x: number;
  }[];
  const edge = entities.find((e) => e.layer === 'OUTLINE')!;
  expect(edge.closed).toBe(true);
  expect(edge.vertices.map((v) => [v.x, v.y, v.bulge ?? 0])).toEqual(lever.map((s) => [s.a.x, s.a.y, bulgeOf(s)]));
  expect(entities.filter((e) => e.type === 'CIRCLE').map((e) => [e.layer, e.x, e.r])).toEqual([
    ['HOLE', 0, 2.5],
    ['HOLE', 32, 1.025],
  ]);
  expect(entities.filter((e) => e.type === 'LINE').map((e) => e.layer)).toEqual(['TAB']);
  expect(parsed!.header.insUnits).toBe(4);
});

test.each([
  [0, '0'],
  [-0, '0'],
  [1, '1'],
  [-2.5, '-2.5'],
  [0.1 + 0.2, '0.30000000000000004'],
  [1e-7, '0.0000001'],
  [-1.5e-9, '-0.0000000015'],
  [1e-31, '0.0000000000000000000000000000001'],
  [123456789.125, '123456789.125'],
  [1e21, '1000000000000000000000'],
])('%s is spelt %s', (value, text) => {
  expect(exact(value)).toBe(text);
});

test('spelling a number loses nothing', () => {
  const rnd = random(SEED);
  for (let i = 0; i < 2000; i++) {
    const value = (rnd() - 0.5) * 10 ** Math.floor(40 * rnd() - 20);
    expect(exact(value)).not.toMatch(/e/i);
    expect(Number(exact(value))).toBe(value);
  }
});
