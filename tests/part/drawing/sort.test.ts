/** Picking, sorting, a job to start from. */
import { expect, test } from 'vitest';
import { loopArea } from '../../../src/geometry/measure/loop.ts';
import { jobFromDrawing } from '../../../src/part/drawing/draft.ts';
import { pickOutline } from '../../../src/part/drawing/pick.ts';
import { sortDrawing, suggestHole } from '../../../src/part/drawing/sort.ts';
import { jobSchema } from '../../../src/part/schema/schema.ts';
import { dxfOf, must, readDxfText, readSvgText, svgOf } from './helpers.ts';

type Entity = (number | string)[];
const circle = (x: number, y: number, r: number, layer = 'HOLES'): Entity => [
  0,
  'CIRCLE',
  8,
  layer,
  10,
  x,
  20,
  y,
  40,
  r,
];
const rect = (x0: number, y0: number, x1: number, y1: number, layer: string): Entity => [
  0,
  'LWPOLYLINE',
  8,
  layer,
  90,
  4,
  70,
  1,
  10,
  x0,
  20,
  y0,
  10,
  x1,
  20,
  y0,
  10,
  x1,
  20,
  y1,
  10,
  x0,
  20,
  y1,
];

const plate = dxfOf([
  rect(0, 0, 60, 20, 'EDGE'),
  circle(10, 10, 2.5),
  circle(30, 10, 1.25),
  circle(50, 10, 1.25),
  rect(36, 6, 44, 14, 'EDGE'),
  rect(-10, -10, 80, 40, 'BORDER'),
  [0, 'TEXT', 8, 'WORDS', 1, 'frame cock'],
  [0, 'DIMENSION', 8, 'WORDS'],
  [0, 'SOLID', 8, 'X'],
]);

test('texts and dimensions are counted as left out, unknown types as unknown', () => {
  const drawing = readDxfText(plate);
  expect(drawing.ignored).toEqual({ DIMENSION: 1, TEXT: 1 });
  expect(drawing.unknown).toEqual({ SOLID: 1 });
  expect(drawing.layers.map((l) => [l.name, l.pieces])).toEqual([
    ['EDGE', 8],
    ['HOLES', 3],
    ['BORDER', 4],
  ]);
});

test('a layer gives its outer edge counter-clockwise and its openings clockwise', () => {
  const { outer, inner } = must(pickOutline(readDxfText(plate), { layer: 'edge' }));
  expect(loopArea(outer)).toBe(1200);
  expect(inner.map(loopArea)).toEqual([-64]);
});

test('faults of picking say what there is', () => {
  const drawing = readDxfText(plate);
  const several = pickOutline(drawing, { layer: 'HOLES' });
  expect(several.problems[0]).toMatchObject({ code: 'several-outlines', severity: 'fault' });
  expect(several.problems[0]!.found).toContain('5 x 5 mm at 7.5, 7.5 ("HOLES")');
  expect(pickOutline(drawing, { layer: 'EGDE' }).problems[0]).toMatchObject({
    code: 'unknown-layer',
    remedy: 'did you mean "EDGE"?',
  });
  expect(pickOutline(readDxfText(dxfOf([])), {}).problems[0]).toMatchObject({ code: 'no-outline' });
  const eight = readDxfText(
    dxfOf([[0, 'LWPOLYLINE', 8, 'A', 90, 4, 70, 1, 10, 0, 20, 0, 10, 10, 20, 10, 10, 10, 20, 0, 10, 0, 20, 4]]),
  );
  expect(pickOutline(eight).problems[0]).toMatchObject({ code: 'crossing-outline', severity: 'fault' });
});

test('roles: the border is reference, holes of one size are one group, each with a question', () => {
  const sorted = sortDrawing(readDxfText(plate), { BORDER: 'reference' });
  expect(sorted.parts).toHaveLength(1);
  expect(sorted.parts[0]!.openings).toHaveLength(1);
  expect(sorted.holeGroups.map((g) => [g.diameter, g.at.length])).toEqual([
    [2.5, 2],
    [5, 1],
  ]);
  for (const g of sorted.holeGroups) expect(g.question).toMatch(/\?$/);
  expect(sorted.left.map((l) => l.layer)).toEqual(['BORDER']);
});

test('suggestions by the size tables: ISO 2306 tapping drills, ISO 273 clearances, reamers', () => {
  const of = (d: number) => suggestHole(d).map((s) => `${s.make} ${s.value}`);
  expect(of(2.5)).toEqual(expect.arrayContaining(['drill 2.5', 'tap M3', 'ream 2.5']));
  expect(of(2.05)).toContain('tap M2.5');
  expect(of(3.4)).toContain('clear M3');
  expect(of(6)).toEqual(expect.arrayContaining(['drill 6', 'tap M6', 'ream 6']));
  expect(of(4.567)).toEqual([]);
  // The usual before the rare: a plain hole, then coarse metric threads, then the others.
  expect(of(3.4)).toEqual(['drill 3.4', 'clear M3', 'tap 3BA']);
  expect(of(5).slice(0, 2)).toEqual(['drill 5', 'ream 5']);
});

test('a job to start from passes the schema, and what the drawing does not say is told', () => {
  const outcome = jobFromDrawing(readDxfText(plate), 'frame cock', { roles: { BORDER: 'reference' } });
  const job = must(outcome);
  expect(job.part.holes).toEqual([
    { at: [10, 10], drill: 5 },
    { at: [30, 10], drill: 2.5 },
    { at: [50, 10], drill: 2.5 },
  ]);
  expect(job.part.outline).toEqual({
    vertices: [
      [0, 0],
      [60, 0],
      [60, 20],
      [0, 20],
    ],
  });
  expect(outcome.problems.map((p) => p.code)).toEqual(
    expect.arrayContaining(['assumed', 'which-hole', 'which-opening']),
  );
  expect(jobSchema(1).safeParse(job)).toMatchObject({ success: true });
});

test('an inch drawing gives an inch job; a disc gives a circle', () => {
  const inch = must(
    jobFromDrawing(
      readDxfText(dxfOf([rect(0, 0, 2, 1, 'A'), circle(0.5, 0.5, 0.125, 'A')], [9, '$INSUNITS', 70, 1])),
      'bar',
    ),
  );
  expect(inch).toMatchObject({
    units: 'inch',
    part: {
      outline: {
        vertices: [
          [0, 0],
          [2, 0],
          [2, 1],
          [0, 1],
        ],
      },
      holes: [{ at: [0.5, 0.5], drill: 0.25 }],
    },
  });
  expect(jobSchema(25.4).safeParse(inch)).toMatchObject({ success: true });
  const disc = must(
    jobFromDrawing(readSvgText(svgOf('<circle cx="50" cy="25" r="10"/><circle cx="50" cy="25" r="3"/>')), 'wheel'),
  );
  expect(disc.part).toMatchObject({
    outline: { circle: { at: [50, 25], diameter: 20 } },
    holes: [{ at: [50, 25], drill: 6 }],
  });
  expect(jobSchema(1).safeParse(disc)).toMatchObject({ success: true });
});

test('hidden layers are left out with a note, and read when asked for by name', () => {
  const table = '0\nSECTION\n2\nTABLES\n0\nTABLE\n2\nLAYER\n0\nLAYER\n2\nBORDER\n70\n1\n62\n7\n0\nENDTAB\n0\nENDSEC\n';
  const drawing = readDxfText(table + plate);
  expect(drawing.loops.some((l) => l.layer === 'BORDER')).toBe(false);
  expect(drawing.notes.map((n) => n.code)).toContain('hidden-layer');
  expect(readDxfText(table + plate, { layer: 'BORDER' }).loops).toHaveLength(1);
});

test('off and frozen layers: a block inserted on a frozen layer is hidden whole, on one that is off only its layer 0', () => {
  const table = (flags: number, colour: number) =>
    `0\nSECTION\n2\nTABLES\n0\nTABLE\n2\nLAYER\n0\nLAYER\n2\nHidden\n70\n${flags}\n62\n${colour}\n0\nENDTAB\n0\nENDSEC\n`;
  const block = [[0, 'BLOCK', 2, 'B', 10, 0, 20, 0], circle(0, 0, 2, '0'), circle(9, 0, 2, 'OTHER'), [0, 'ENDBLK']];
  const text = dxfOf([[0, 'INSERT', 8, 'HIDDEN', 2, 'B', 10, 0, 20, 0]], [], block);
  const seen = (t: string, layer?: string) =>
    readDxfText(t + text, layer === undefined ? {} : { layer }).loops.map((l) => l.layer);
  expect(seen('')).toEqual(['HIDDEN', 'OTHER']);
  expect(seen(table(0, -7))).toEqual(['OTHER']);
  expect(seen(table(1, 7))).toEqual([]);
  expect(seen(table(1, 7), 'hidden')).toEqual(['Hidden']);
});
