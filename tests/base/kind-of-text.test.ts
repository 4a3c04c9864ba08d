/** Files known by their beginning. */
import { expect, it } from 'vitest';
import { kindOfText } from '../../src/base/kind-of-text.ts';

it.each([
  ['{ "name": 1 }', 'job'],
  ['\ufeff\n// a comment\n{', 'job'],
  ['/* a comment */ {', 'job'],
  ['[]', 'job'],
  ['  0\r\nSECTION\r\n  2\r\n', 'dxf'],
  ['999\nmade by hand\n0\nSECTION\n', 'dxf'],
  ['<?xml version="1.0"?><svg/>', 'markup'],
  ['\n<!doctype html>', 'markup'],
  ['# Notes on the lever', 'markup'],
  ['%\nG21\n', 'program'],
  ['(a comment)\nG0 X1\n', 'program'],
  ['n10 g21\n', 'program'],
  ['#1=5\nG0 X#1\n', 'program'],
  ['X1 Y2\n', null],
  ['hello\n', null],
  ['0\n', null],
  ['', null],
])('%j is %s', (text, kind) => {
  expect(kindOfText(text)).toBe(kind);
});

it('looks at the beginning alone', () => {
  const started = performance.now();
  expect(kindOfText(' '.repeat(50_000_000))).toBeNull();
  expect(performance.now() - started).toBeLessThan(1000);
});
