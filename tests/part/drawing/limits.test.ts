/** Odd but sound files are read; over-large and over-crowded ones are refused with the limit. */
import { expect, test } from 'vitest';
import { readDrawing } from '../../../src/part/drawing/read.ts';
import { dxfOf, lineEntity } from './helpers.ts';

const good = dxfOf([
  lineEntity(0, 0, 10, 0),
  lineEntity(10, 0, 10, 10),
  lineEntity(10, 10, 0, 10),
  lineEntity(0, 10, 0, 0),
]);

test('odd but sound files: line ends, byte order marks, comments, spaces, Latin-1 names, a control-Z at the end', () => {
  const bytes = Uint8Array.from([...good.replaceAll('EDGE', 'K\u00d6RPER')].map((c) => c.charCodeAt(0)));
  const variants: (string | Uint8Array)[] = [
    good.replaceAll('\n', '\r\n'),
    good.replaceAll('\n', '\r'),
    `\ufeff${good}`,
    `999\nmade by hand\n${good}`,
    good.replace('0\nENDSEC\n0\nEOF', '999\na comment among entities\n0\nENDSEC\n0\nEOF'),
    good.replace(/^(\d+)$/gm, '  $1 '),
    `${good}\n\n\u001a`,
    good.trimEnd(),
    bytes,
  ];
  for (const text of variants) {
    const outcome = readDrawing(text, { format: 'dxf', units: 'mm' });
    expect(outcome.ok && outcome.value.loops.length, JSON.stringify(outcome.problems)).toBe(1);
  }
});

test('sizes beyond the stated limits are refused at once, with the limit', () => {
  const large = readDrawing('0\n'.repeat(25_000_001), { format: 'dxf', units: 'mm' });
  expect(large.problems[0]).toMatchObject({ code: 'too-large', wanted: 'at most 50000000 (50 MB)' });
  const lines = Array.from({ length: 100 }, (_, i) => lineEntity(i, 0, i, 1));
  const block = [[0, 'BLOCK', 2, 'A', 10, 0, 20, 0], ...lines, [0, 'ENDBLK']];
  const array = [0, 'INSERT', 2, 'A', 10, 0, 20, 0, 70, 1, 71, 4000, 45, 2];
  const many = readDrawing(dxfOf([array], [], block), { format: 'dxf', units: 'mm' });
  expect(many.problems[0]).toMatchObject({ code: 'too-many-pieces', found: 'more than 300000 lines, arcs and curves' });
});

test('hatching that would compare everything with everything is refused', () => {
  const lines = Array.from({ length: 3000 }, (_, i) => lineEntity(i * 0.02, 0, i * 0.02 + 100, 100));
  const crowded = readDrawing(dxfOf(lines), { format: 'dxf', units: 'mm' });
  expect(crowded.problems[0]).toMatchObject({ code: 'too-crowded', severity: 'fault' });
  expect(crowded.problems[0]!.place.line).toBeGreaterThan(0);
});
