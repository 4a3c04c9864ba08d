/** Healing: nothing is repaired without a note, nothing that is drawn is moved farther than the joining distance. */
import { describe, expect, test } from 'vitest';
import { loopArea, loopLength } from '../../../src/geometry/measure/loop.ts';
import { dist } from '../../../src/geometry/measure/point.ts';
import { validateLoop } from '../../../src/geometry/validate.ts';
import { pickOutline } from '../../../src/part/drawing/pick.ts';
import { random, runs, SEED } from '../../runs.ts';
import { dxfOf, lineEntity, must, readDxfText } from './helpers.ts';

type Entity = (number | string)[];
const arc = (x: number, y: number, r: number, from: number, to: number): Entity => [
  0,
  'ARC',
  8,
  'EDGE',
  10,
  x,
  20,
  y,
  40,
  r,
  50,
  from,
  51,
  to,
];

/** A slotted link with round ends: two lines, two half circles. */
function link(shake: () => number): Entity[] {
  const s = shake;
  return [
    lineEntity(0 + s(), -4 + s(), 20 + s(), -4 + s()),
    arc(20 + s(), s(), 4, 270, 90),
    lineEntity(20 + s(), 4 + s(), 0 + s(), 4 + s()),
    arc(s(), s(), 4, 90, 270),
  ];
}

function shuffled<T>(list: readonly T[], rnd: () => number): T[] {
  const copy = [...list];
  for (let i = copy.length - 1; i > 0; i--) {
    const j = Math.floor(rnd() * (i + 1));
    [copy[i], copy[j]] = [copy[j]!, copy[i]!];
  }
  return copy;
}

function backwards(e: Entity): Entity {
  return e[1] === 'LINE' ? lineEntity(e[9] as number, e[11] as number, e[5] as number, e[7] as number) : e;
}

test('ends shaken by a few micrometres, in any order and sense, give one loop; each join has a note with its place', () => {
  const rnd = random(SEED);
  let joined = 0;
  for (let i = 0; i < runs(500); i++) {
    const shake = () => (rnd() - 0.5) * 0.005;
    const entities = shuffled(link(shake), rnd).map((e) => (rnd() < 0.5 ? backwards(e) : e));
    const drawing = readDxfText(dxfOf(entities));
    expect(drawing.loops).toHaveLength(1);
    expect(drawing.open).toHaveLength(0);
    const { loop } = drawing.loops[0]!;
    expect(loop.map((s) => s.kind).sort()).toEqual(['arc', 'arc', 'line', 'line']);
    expect(loopArea(loop)).toBeGreaterThan(0);
    expect(Math.abs(loopArea(loop) - (160 + 16 * Math.PI))).toBeLessThan(0.01 * loopLength(loop));
    expect(validateLoop(loop)).toEqual([]);
    const notes = drawing.notes.filter((n) => n.code === 'joined');
    for (const n of notes) expect(n.place.at).toBeDefined();
    joined += notes.length;
  }
  expect(joined).toBeGreaterThan(runs(500));
});

test('gaps: 0.009 mm is closed, 0.011 mm is not, and its two ends and size are told', () => {
  const square = (gap: number) =>
    dxfOf([lineEntity(0, 0, 10, 0), lineEntity(10, 0, 10, 10), lineEntity(10, 10, 0, 10), lineEntity(0, 10, 0, gap)]);
  expect(readDxfText(square(0.009)).loops).toHaveLength(1);
  const open = readDxfText(square(0.011));
  expect(open.loops).toHaveLength(0);
  expect(open.open[0]!.gap).toMatchObject({ size: expect.closeTo(0.011, 12) });
  expect(open.defects[0]!.found).toContain('0.011 mm');
  const refused = pickOutline(open);
  expect(refused.ok).toBe(false);
  expect(refused.problems[0]).toMatchObject({ code: 'open-outline', severity: 'fault' });
  expect(readDxfText(square(0.011), { join: 0.02 }).loops).toHaveLength(1);
});

test('nearest ends are joined first: a corner keeps its own partner', () => {
  const near = 0.004;
  const drawing = readDxfText(
    dxfOf([
      lineEntity(0, 0, 10, 0),
      lineEntity(10, 0, 10, 10),
      lineEntity(10, 10, 0, 0),
      lineEntity(10 + near, 0, 20, 0),
      lineEntity(20, 0, 20, -9),
      lineEntity(20, -9, 10 + near, 0),
    ]),
  );
  expect(drawing.loops).toHaveLength(2);
  expect(drawing.defects.some((d) => d.code === 'branch')).toBe(true);
});

describe('what is drawn twice', () => {
  const square = [
    lineEntity(0, 0, 10, 0),
    lineEntity(10, 0, 10, 10),
    lineEntity(10, 10, 0, 10),
    lineEntity(0, 10, 0, 0),
  ];
  test.each<[string, Entity[], number]>([
    ['the whole square', square, 4],
    ['the square backwards', square.map(backwards), 4],
    ['a piece of one side', [lineEntity(3, 0, 7, 0)], 1],
    ['a side with a micrometre off', [lineEntity(0, 0.0005, 10, 0.0005)], 1],
    [
      'the square as a polyline',
      [[0, 'LWPOLYLINE', 8, 'EDGE', 90, 4, 70, 1, 10, 0, 20, 0, 10, 10, 20, 0, 10, 10, 20, 10, 10, 0, 20, 10]],
      4,
    ],
  ])('%s', (_, extra, notes) => {
    for (const entities of [
      [...square, ...extra],
      [...extra, ...square],
    ]) {
      const drawing = readDxfText(dxfOf(entities));
      expect(drawing.loops).toHaveLength(1);
      expect(loopArea(drawing.loops[0]!.loop)).toBeCloseTo(100, 1);
      expect(drawing.open).toHaveLength(0);
      expect(drawing.notes.filter((n) => n.code === 'duplicate' || n.code === 'overlap')).toHaveLength(notes);
    }
  });

  test('circles and arcs on circles', () => {
    const circle: Entity = [0, 'CIRCLE', 8, 'EDGE', 10, 5, 20, 5, 40, 3];
    const drawing = readDxfText(dxfOf([circle, arc(5, 5, 3, 10, 200), circle, ...square]));
    expect(drawing.circles).toHaveLength(1);
    expect(drawing.open).toHaveLength(0);
    expect(drawing.notes.filter((n) => n.code === 'duplicate')).toHaveLength(2);
  });

  test('two halves that overlap leave one whole circle', () => {
    const drawing = readDxfText(dxfOf([arc(0, 0, 5, 0, 200), arc(0, 0, 5, 180, 360)]));
    expect(drawing.circles[0]!.circle).toMatchObject({ diameter: expect.closeTo(10, 9) });
    expect(drawing.notes.map((n) => n.code)).toContain('overlap');
  });

  test('a narrow wall of 0.02 mm is not an overlap', () => {
    const drawing = readDxfText(
      dxfOf([
        ...square,
        [
          0,
          'LWPOLYLINE',
          8,
          'EDGE',
          90,
          4,
          70,
          1,
          10,
          0.02,
          20,
          0.02,
          10,
          9.98,
          20,
          0.02,
          10,
          9.98,
          20,
          9.98,
          10,
          0.02,
          20,
          9.98,
        ],
      ]),
    );
    expect(drawing.loops).toHaveLength(2);
    expect(drawing.notes.filter((n) => n.code === 'overlap' || n.code === 'duplicate')).toEqual([]);
  });
});

test('layers keep apart: lines of two layers are not joined', () => {
  const drawing = readDxfText(
    dxfOf([lineEntity(0, 0, 10, 0, 'A'), lineEntity(10, 0, 5, 8, 'B'), lineEntity(5, 8, 0, 0, 'A')]),
  );
  expect(drawing.loops).toHaveLength(0);
  expect(drawing.open.map((o) => o.layer).sort()).toEqual(['A', 'B']);
});

test('lines along an edge on the layer of tabs mark tabs; every other open line is told', () => {
  const square = [
    [0, 0, 20, 0],
    [20, 0, 20, 10],
    [20, 10, 0, 10],
    [0, 10, 0, 0],
  ].map((l) => lineEntity(...(l as [number, number, number, number])));
  const told = (...more: (number | string)[][]) => {
    const { loops, open, defects, ignored } = readDxfText(dxfOf([...square, ...more]));
    expect(loops).toHaveLength(1);
    return [open.length, defects.filter((d) => d.code === 'open').length, ignored['lines that mark tabs'] ?? 0];
  };
  expect(told(lineEntity(8, 0, 12, 0, 'TAB'), lineEntity(20, 3, 20, 6, 'TAB'))).toEqual([0, 0, 2]);
  // On another layer, off the edge, across it, bent: no marks.
  expect(told(lineEntity(8, -1, 12, -1, 'TABS'))).toEqual([1, 1, 0]);
  expect(told(lineEntity(8, -1, 12, -1, 'TAB'))).toEqual([1, 1, 0]);
  expect(told(lineEntity(8, -1, 8, 1, 'TAB'))).toEqual([1, 1, 0]);
  expect(told([0, 'LWPOLYLINE', 8, 'TAB', 90, 3, 70, 0, 10, 8, 20, 0, 10, 10, 20, -1, 10, 12, 20, 0])).toEqual([
    1, 1, 0,
  ]);
});

test('finely divided curves are not eaten: 2 000 steps of 5 micrometres', () => {
  const n = 2000;
  const r = (n * 0.005) / (2 * Math.PI);
  const vertices = Array.from({ length: n }, (_, i) => [
    10,
    r * Math.cos((2 * Math.PI * i) / n),
    20,
    r * Math.sin((2 * Math.PI * i) / n),
  ]).flat();
  const drawing = readDxfText(dxfOf([[0, 'LWPOLYLINE', 8, 'A', 90, n, 70, 1, ...vertices]]));
  expect(drawing.loops[0]!.loop).toHaveLength(n);
  expect(drawing.notes.filter((x) => x.code !== 'no-units')).toEqual([]);
});

test('an arc that all but closes is a whole circle', () => {
  const drawing = readDxfText(dxfOf([arc(0, 0, 5, 0.05, 360)]));
  expect(drawing.circles).toHaveLength(1);
  expect(dist(drawing.circles[0]!.circle!.centre, { x: 0, y: 0 })).toBeLessThan(0.01);
});

test('six-decimal coordinates at tangent corners are no self-crossing', () => {
  const round = (x: number) => Number(x.toFixed(6));
  const a = Math.asin(2 / 32);
  const [s, c] = [Math.sin(a), Math.cos(a)];
  const drawing = readDxfText(
    dxfOf([
      lineEntity(round(6 * s), round(-6 * c), round(32 + 4 * s), round(-4 * c)),
      arc(32, 0, 4, round(-90 + (a * 180) / Math.PI), round(90 - (a * 180) / Math.PI)),
      lineEntity(round(32 + 4 * s), round(4 * c), round(6 * s), round(6 * c)),
      arc(0, 0, 6, round(90 - (a * 180) / Math.PI), round(270 + (a * 180) / Math.PI)),
    ]),
  );
  expect(drawing.defects).toEqual([]);
  expect(must(pickOutline(drawing)).outer).toHaveLength(4);
});

test('layer names: case does not matter, \\U+XXXX is a letter', () => {
  const square = [
    lineEntity(0, 0, 10, 0, 'K\\U+00F6rper'),
    lineEntity(10, 0, 5, 8, 'K\\U+00F6rper'),
    lineEntity(5, 8, 0, 0, 'K\\U+00F6rper'),
  ];
  const drawing = readDxfText(dxfOf(square));
  expect(drawing.layers[0]!.name).toBe('K\u00f6rper');
  expect(must(pickOutline(drawing, { layer: 'K\u00d6RPER' })).outer).toHaveLength(3);
});

test('steps too short to be written are thinned, not lost: 20 000 of 31 nanometres round a small circle', () => {
  const [n, r] = [20_000, 0.1];
  const vertices = Array.from({ length: n }, (_, i) => {
    const angle = (2 * Math.PI * i) / n;
    return [10, r * Math.cos(angle), 20, r * Math.sin(angle)];
  });
  const drawing = readDxfText(dxfOf([[0, 'LWPOLYLINE', 8, 'A', 90, n, 70, 1, ...vertices.flat()]]));
  expect(loopArea(drawing.loops[0]!.loop)).toBeCloseTo(Math.PI * r * r, 6);
  expect(validateLoop(drawing.loops[0]!.loop)).toEqual([]);
  expect(drawing.notes.find((x) => x.code === 'tiny-piece')!.place.at).toBeDefined();
});
