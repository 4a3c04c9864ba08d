/** Deliberately broken drawings: each has a named trouble and a place, none takes long, none throws. */
import { describe, expect, test } from 'vitest';
import type { Problem } from '../../../src/base/problem.ts';
import type { DrawingOptions } from '../../../src/part/drawing/drawing.ts';
import { readDrawing } from '../../../src/part/drawing/read.ts';
import { dxfOf, lineEntity, svgOf } from './helpers.ts';

const square = [lineEntity(0, 0, 10, 0), lineEntity(10, 0, 10, 10), lineEntity(10, 10, 0, 10), lineEntity(0, 10, 0, 0)];
const good = dxfOf(square);

/** Line (from 1) of the n-th line that is exactly `text`. */
function lineOf(drawing: string, text: string, nth = 1): number {
  let seen = 0;
  for (const [i, l] of drawing.split('\n').entries()) if (l.trim() === text && ++seen === nth) return i + 1;
  throw new Error(`${text} is not in the drawing`);
}

interface Case {
  readonly name: string;
  readonly text: string | Uint8Array;
  readonly code: string;
  readonly line?: number;
  readonly at?: readonly [number, number];
  /** Faults refuse the drawing; defects and notes do not. */
  readonly kind?: 'defect' | 'note';
  readonly options?: Partial<DrawingOptions>;
}

function withText(from: string, to: string): string {
  const text = good.replace(from, to);
  if (text === good) throw new Error(`${from} is not in the drawing`);
  return text;
}

const splineHead = [0, 'SPLINE', 8, 'EDGE', 70, 8];
const cubic = [10, 0, 20, 0, 10, 1, 20, 2, 10, 2, 20, 2, 10, 3, 20, 0];
const comma = withText('11\n10\n21\n0', '11\n10,5\n21\n0');
const letters = withText('11\n10\n21\n0', '11\n12abc\n21\n0');
const nan = withText('11\n10\n21\n0', '11\nnan\n21\n0');
const huge = withText('11\n10\n21\n0', '11\n1e400\n21\n0');
const blank = withText('11\n10\n21\n0', '11\n\n21\n0');
const codeless = withText('11\n10\n21\n0', 'eleven\n10\n21\n0');
const tilted = dxfOf([[0, 'CIRCLE', 8, 'A', 10, 0, 20, 0, 40, 1, 210, 0, 220, 1, 230, 1]]);
const cycle = dxfOf(
  [[0, 'INSERT', 2, 'A', 10, 0, 20, 0]],
  [],
  [
    [0, 'BLOCK', 2, 'A', 10, 0, 20, 0],
    [0, 'INSERT', 2, 'B', 10, 0, 20, 0],
    [0, 'ENDBLK'],
    [0, 'BLOCK', 2, 'B', 10, 0, 20, 0],
    [0, 'INSERT', 2, 'A', 10, 0, 20, 0],
    [0, 'ENDBLK'],
  ],
);
const noSeqend = dxfOf([
  [0, 'POLYLINE', 8, 'A', 66, 1, 70, 1],
  [0, 'VERTEX', 8, 'A', 10, 0, 20, 0],
  [0, 'VERTEX', 8, 'A', 10, 9, 20, 0],
  ...square,
]);

const DXF: Case[] = [
  { name: 'empty', text: '', code: 'empty', line: 1 },
  { name: 'blank lines only', text: '\n\n  \n', code: 'empty', line: 1 },
  { name: 'binary sentinel', text: 'AutoCAD Binary DXF\r\n\u001a', code: 'binary-dxf', line: 1 },
  {
    name: 'binary sentinel in bytes',
    text: new Uint8Array([...'AutoCAD Binary DXF'].map((c) => c.charCodeAt(0)).concat([13, 10, 26, 0, 0, 0])),
    code: 'binary-dxf',
    line: 1,
  },
  { name: 'a drawing database named dxf', text: 'AC1032\u0001\u0002', code: 'not-dxf', line: 1 },
  { name: 'a web page', text: '<!doctype html><html><body>404</body></html>', code: 'not-dxf', line: 1 },
  { name: 'an SVG drawing', text: svgOf(''), code: 'not-dxf', line: 1 },
  { name: 'prose', text: 'Dear Sir,\nthe drawing follows by post.\n', code: 'bad-group-code', line: 1 },
  { name: 'zero bytes', text: new Uint8Array([0x20, 0x30, 0x0a, 0, 0, 0, 0]), code: 'not-text' },
  { name: 'decimal comma', text: comma, code: 'bad-number', line: lineOf(comma, '10,5') },
  { name: 'letters after a number', text: letters, code: 'bad-number', line: lineOf(letters, '12abc') },
  { name: 'nan', text: nan, code: 'bad-number', line: lineOf(nan, 'nan') },
  { name: 'number too large', text: huge, code: 'bad-number', line: lineOf(huge, '1e400') },
  { name: 'empty number', text: blank, code: 'bad-number', line: lineOf(good, '10', 2) },
  { name: 'word for a group code', text: codeless, code: 'bad-group-code', line: lineOf(codeless, 'eleven') },
  { name: 'cut off after a group code', text: good.slice(0, good.indexOf('\n21\n10\n') + 3), code: 'cut-short' },
  { name: 'cut off between entities', text: good.slice(0, good.indexOf('0\nENDSEC\n0\nEOF')), code: 'cut-short' },
  { name: 'no EOF', text: good.replace('0\nEOF\n', ''), code: 'cut-short' },
  { name: 'no ENTITIES section', text: '0\nSECTION\n2\nHEADER\n0\nENDSEC\n0\nEOF\n', code: 'no-entities' },
  { name: 'no ENDSEC', text: good.replace('0\nENDSEC\n0\nEOF', '0\nEOF'), code: 'no-endsec', kind: 'defect' },
  { name: 'value missing', text: withText('11\n10\n21\n0', '11\n10'), code: 'missing-value' },
  { name: 'zero radius', text: dxfOf([[0, 'CIRCLE', 8, 'A', 10, 0, 20, 0, 40, 0]]), code: 'bad-radius', line: 12 },
  {
    name: 'negative radius',
    text: dxfOf([[0, 'ARC', 8, 'A', 10, 0, 20, 0, 40, -2, 50, 0, 51, 90]]),
    code: 'bad-radius',
    line: 12,
  },
  { name: 'tilted circle', text: tilted, code: 'tilted', line: 12 },
  { name: 'line that climbs', text: dxfOf([[...lineEntity(0, 0, 5, 0), 30, 0, 31, 2]]), code: 'not-flat', line: 12 },
  {
    name: 'ellipse without a ratio above zero',
    text: dxfOf([[0, 'ELLIPSE', 8, 'A', 10, 0, 20, 0, 11, 5, 21, 0, 40, 0]]),
    code: 'bad-ellipse',
  },
  {
    name: 'polyline of one vertex',
    text: dxfOf([[0, 'LWPOLYLINE', 8, 'A', 90, 1, 70, 1, 10, 0, 20, 0]]),
    code: 'short-polyline',
  },
  {
    name: 'vertices fewer than said',
    text: dxfOf([[0, 'LWPOLYLINE', 8, 'A', 90, 4, 70, 1, 10, 0, 20, 0, 10, 5, 20, 0, 10, 5, 20, 5]]),
    code: 'vertex-count',
  },
  {
    name: 'vertex without y',
    text: dxfOf([[0, 'LWPOLYLINE', 8, 'A', 90, 3, 70, 1, 10, 0, 20, 0, 10, 5, 10, 5, 20, 5]]),
    code: 'missing-value',
  },
  { name: 'POLYLINE without SEQEND', text: noSeqend, code: 'no-seqend', line: 12 },
  {
    name: 'fit points only',
    text: dxfOf([[...splineHead, 71, 3, 74, 3, 11, 0, 21, 0, 11, 1, 21, 1, 11, 2, 21, 0]]),
    code: 'fit-points-only',
  },
  {
    name: 'knots missing',
    text: dxfOf([[...splineHead, 71, 3, 40, 0, 40, 0, 40, 1, 40, 1, ...cubic]]),
    code: 'bad-spline',
  },
  {
    name: 'knots that descend',
    text: dxfOf([[...splineHead, 71, 3, ...[0, 0, 0, 0, 1, 1, 1, 0.5].flatMap((k) => [40, k]), ...cubic]]),
    code: 'bad-spline',
  },
  {
    name: 'weight of zero',
    text: dxfOf([
      [
        ...splineHead,
        71,
        3,
        ...[0, 0, 0, 0, 1, 1, 1, 1].flatMap((k) => [40, k]),
        ...[1, 1, 0, 1].flatMap((w) => [41, w]),
        ...cubic,
      ],
    ]),
    code: 'bad-spline',
  },
  { name: 'block that is not there', text: dxfOf([[0, 'INSERT', 2, 'GONE', 10, 0, 20, 0]]), code: 'unknown-block' },
  { name: 'blocks that hold each other', text: cycle, code: 'block-cycle' },
  {
    name: 'block without ENDBLK',
    text: dxfOf(square, [], [[0, 'BLOCK', 2, 'A', 10, 0, 20, 0], lineEntity(0, 0, 1, 1)]),
    code: 'no-endblk',
  },
  {
    name: 'insert with scale zero',
    text: dxfOf(
      [[0, 'INSERT', 2, 'A', 10, 0, 20, 0, 41, 0]],
      [],
      [[0, 'BLOCK', 2, 'A', 10, 0, 20, 0], lineEntity(0, 0, 1, 1), [0, 'ENDBLK']],
    ),
    code: 'bad-scale',
  },
  {
    name: 'array of a million',
    text: dxfOf(
      [[0, 'INSERT', 2, 'A', 10, 0, 20, 0, 70, 1000, 71, 1000]],
      [],
      [[0, 'BLOCK', 2, 'A', 10, 0, 20, 0], lineEntity(0, 0, 1, 1), [0, 'ENDBLK']],
    ),
    code: 'too-many-copies',
  },
  { name: 'units of miles', text: dxfOf(square, [9, '$INSUNITS', 70, 3]), code: 'bad-units' },
  { name: 'out of all measure', text: dxfOf([lineEntity(0, 0, 1e9, 0)]), code: 'too-far' },
  { name: 'a layer that is not there', text: good, code: 'unknown-layer', options: { layer: 'EGDE' } },
  {
    name: 'gap of half a millimetre',
    text: dxfOf([...square.slice(0, 3), lineEntity(0, 10, 0, 0.5)]),
    code: 'open',
    kind: 'defect',
    at: [0, 0],
  },
  {
    name: 'line ending on another',
    text: dxfOf([...square, lineEntity(5, 0, 5, 4)]),
    code: 't-junction',
    kind: 'defect',
    at: [5, 0],
  },
  {
    name: 'three ends at a corner',
    text: dxfOf([...square, lineEntity(10, 10, 14, 14)]),
    code: 'branch',
    kind: 'defect',
    at: [10, 10],
  },
  {
    name: 'figure of eight',
    text: dxfOf([[0, 'LWPOLYLINE', 8, 'A', 90, 4, 70, 1, 10, 0, 20, 0, 10, 10, 20, 10, 10, 10, 20, 0, 10, 0, 20, 10]]),
    code: 'self-crossing',
    kind: 'defect',
    at: [5, 5],
  },
  {
    name: 'two outlines that cross',
    text: dxfOf([...square, [0, 'CIRCLE', 8, 'EDGE', 10, 0, 20, 5, 40, 3]]),
    code: 'crossing',
    kind: 'defect',
    at: [0, 8],
  },
  {
    name: 'closed outline without an inside',
    text: dxfOf([[0, 'LWPOLYLINE', 8, 'A', 90, 3, 70, 1, 10, 0, 20, 0, 10, 5, 20, 0, 10, 9, 20, 0]]),
    code: 'overlap',
    kind: 'note',
  },
  {
    name: 'line drawn twice',
    text: dxfOf([...square, lineEntity(10, 0, 0, 0)]),
    code: 'duplicate',
    kind: 'note',
    at: [5, 0],
  },
  {
    name: 'line drawn partly twice',
    text: dxfOf([...square, lineEntity(2, 0, 6, 0)]),
    code: 'duplicate',
    kind: 'note',
    at: [4, 0],
  },
  {
    name: 'gap of a few micrometres',
    text: dxfOf([...square.slice(0, 3), lineEntity(0, 10, 0, 0.006)]),
    code: 'joined',
    kind: 'note',
    at: [0, 0.006],
  },
  {
    name: 'line against the rest',
    text: dxfOf([...square.slice(0, 3), lineEntity(0, 0, 0, 10)]),
    code: 'turned-round',
    kind: 'note',
    at: [0, 0],
  },
  {
    name: 'speck',
    text: dxfOf([...square, lineEntity(40, 40, 40.004, 40)]),
    code: 'tiny-piece',
    kind: 'note',
    at: [40, 40],
  },
  {
    name: 'specks in a polyline',
    text: dxfOf([
      [0, 'LWPOLYLINE', 8, 'A', 90, 4, 70, 1, 10, 0, 20, 0, 10, 9, 20, 0, 10, 9, 20, 0.00005, 10, 9, 20, 9],
    ]),
    code: 'tiny-piece',
    kind: 'note',
    at: [9, 0],
  },
];

const rect = '<rect x="1" y="2" width="30" height="20"/>';
const SVG: Case[] = [
  { name: 'empty', text: '', code: 'empty', line: 1 },
  { name: 'a web page', text: '<!DOCTYPE html>\n<html><body>404</body></html>', code: 'not-svg', line: 1 },
  { name: 'prose', text: 'Dear Sir', code: 'not-svg', line: 1 },
  { name: 'other XML', text: '<?xml version="1.0"?>\n<note>hello</note>', code: 'not-svg', line: 2 },
  { name: 'cut off', text: svgOf(rect).slice(0, -10), code: 'bad-xml' },
  { name: 'tags that do not match', text: svgOf('<g><rect/></a>'), code: 'bad-xml', line: 2 },
  { name: 'attribute twice', text: svgOf('<rect x="1" x="2" width="3" height="4"/>'), code: 'bad-xml', line: 2 },
  {
    name: 'expansion bomb',
    text: `<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]>\n${svgOf('<g id="&b;"/>')}`,
    code: 'xml-entity',
    line: 3,
  },
  {
    name: 'external entity',
    text: `<!DOCTYPE svg [<!ENTITY secret SYSTEM "file:///etc/hostname">]>\n${svgOf('<text>&secret;</text>')}`,
    code: 'xml-entity',
    line: 3,
  },
  {
    name: 'nested ten thousand deep',
    text: svgOf('<g>'.repeat(10_000) + '</g>'.repeat(10_000)),
    code: 'too-deep',
    line: 2,
  },
  { name: 'bad path letter', text: svgOf('<path d="M0 0 L10 0 Y5 5"/>'), code: 'bad-path', line: 2 },
  { name: 'path without a move', text: svgOf('<path d="L10 0 10 10"/>'), code: 'bad-path', line: 2 },
  { name: 'arc flag of two', text: svgOf('<path d="M0 0 A5 5 0 2 0 10 0"/>'), code: 'bad-path', line: 2 },
  { name: 'path number too large', text: svgOf('<path d="M0 0 L1e400 0"/>'), code: 'bad-path', line: 2 },
  { name: 'decimal comma', text: svgOf('<circle cx="1,5" cy="2" r="3"/>'), code: 'bad-number', line: 2 },
  { name: 'word for a number', text: svgOf('<circle cx="1" cy="2" r="three"/>'), code: 'bad-number', line: 2 },
  { name: 'negative radius', text: svgOf('<circle cx="1" cy="2" r="-3"/>'), code: 'bad-radius', line: 2 },
  { name: 'negative width', text: svgOf('<rect width="-4" height="3"/>'), code: 'bad-size', line: 2 },
  { name: 'odd number of points', text: svgOf('<polygon points="0,0 5,0 5"/>'), code: 'bad-points', line: 2 },
  {
    name: 'misspelt transform',
    text: svgOf('<g transform="rotat(30)"><rect width="4" height="3"/></g>'),
    code: 'bad-transform',
    line: 2,
  },
  {
    name: 'unclosed transform',
    text: svgOf('<g transform="rotate(30"><rect width="4" height="3"/></g>'),
    code: 'bad-transform',
    line: 2,
  },
  {
    name: 'matrix of five',
    text: svgOf('<g transform="matrix(1 0 0 1 5)"><rect width="4" height="3"/></g>'),
    code: 'bad-transform',
    line: 2,
  },
  { name: 'viewBox of three', text: svgOf(rect, 'viewBox="0 0 100"'), code: 'bad-viewbox', line: 1 },
  { name: 'viewBox without width', text: svgOf(rect, 'viewBox="0 0 0 50"'), code: 'bad-viewbox', line: 1 },
  {
    name: 'unknown preserveAspectRatio',
    text: svgOf(rect, 'viewBox="0 0 9 9" preserveAspectRatio="middle"'),
    code: 'bad-viewbox',
    line: 1,
  },
  { name: 'length in ems', text: svgOf('<rect width="4em" height="3"/>'), code: 'bad-units', line: 2 },
  { name: 'use of nothing', text: svgOf('<use href="#gone"/>'), code: 'unknown-reference', line: 2 },
  {
    name: 'use of another file',
    text: svgOf('<use href="http://example.com/a.svg#a"/>'),
    code: 'external-reference',
    line: 2,
  },
  { name: 'use of itself', text: svgOf('<g id="a"><use href="#a"/></g>'), code: 'use-cycle', line: 2 },
  {
    name: 'use bomb',
    text: svgOf(
      `<rect id="n0" width="1" height="1"/>${Array.from({ length: 8 }, (_, i) => `<g id="n${i + 1}">${`<use href="#n${i}"/>`.repeat(10)}</g>`).join('')}`,
    ),
    code: 'too-many-copies',
    line: 2,
  },
  {
    name: 'an id that is not there',
    text: svgOf('<g id="lever"><rect width="4" height="3"/></g>'),
    code: 'unknown-id',
    options: { id: 'leber' },
  },
  {
    name: 'open path',
    text: svgOf('<path d="M1 1 H9 V9 H1 V2"/>'),
    code: 'open',
    kind: 'defect',
    line: 2,
    at: [1, 49],
  },
];

describe.each([
  ['dxf', DXF],
  ['svg', SVG],
] as const)('%s', (format, cases) => {
  test.each(cases.map((c) => [c.name, c] as const))('%s', (_, c) => {
    const begun = performance.now();
    const outcome = readDrawing(c.text, { format, units: 'mm', ...c.options });
    expect(performance.now() - begun).toBeLessThan(c.name.includes('bomb') ? 3000 : 1000);
    expect(outcome.ok).toBe(c.kind !== undefined);
    const found: Problem | undefined = outcome.problems.find((p) => p.code === c.code);
    expect(found, JSON.stringify(outcome.problems, null, 1)).toBeDefined();
    expect(found!.severity).toBe({ fault: 'fault', defect: 'caution', note: 'note' }[c.kind ?? 'fault']);
    expect(found!.found).not.toMatch(/undefined|NaN\b|\bat .*\.ts/);
    if (c.line !== undefined) expect(found!.place.line).toBe(c.line);
    if (c.at !== undefined) for (const k of [0, 1]) expect(found!.place.at![k]).toBeCloseTo(c.at[k]!, 6);
    const placed = found!.place.line !== undefined || found!.place.at !== undefined;
    expect(placed || ['not-text', 'bad-units', 'unknown-layer', 'unknown-id'].includes(c.code)).toBe(true);
  });
});

test('there are more than fifty, and the same drawing unbroken reads clean', () => {
  expect(DXF.length + SVG.length).toBeGreaterThanOrEqual(80);
  const clean = readDrawing(good, { format: 'dxf', units: 'mm' });
  expect(clean.ok && clean.value.loops.length === 1 && clean.value.defects.length === 0).toBe(true);
});
