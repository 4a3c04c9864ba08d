/** The text of a job file: comments, places, syntax errors, rubbish. JSON: RFC 8259. */
import { describe, expect, it } from 'vitest';
import { describeProblem } from '../../src/base/problem.ts';
import { readJsonc, spellPath } from '../../src/part/schema/jsonc.ts';
import { faults, lever, read, readGood, theFault } from './jobs.ts';

describe('text', () => {
  it('takes comments, trailing commas, a byte order mark and CRLF', () => {
    const text = `\ufeff// a comment\r\n${JSON.stringify(lever(), null, 2)
      .replaceAll('\n', '\r\n')
      .replace(/\r\n}$/, ',\r\n /* more */ }')}`;
    expect(readGood(text).name).toBe('lifting lever');
  });

  it('places a problem at its line and column, with its key path', () => {
    const text =
      '{\n  "material": "O1",\n  "part": {\n    "thickness": -4,\n    "outline": { "circle": { "at": [0, 0], "diameter": 10 } }\n  }\n}';
    const problem = theFault(text);
    expect(problem.place).toMatchObject({ file: 'job.json', line: 4, column: 18, path: 'part.thickness' });
    expect(describeProblem(problem)).toMatch(
      /^job\.json:4:18 out-of-range part\.thickness: `thickness` is -4; more than 0; /,
    );
  });

  it.each([
    ['%\nG21\n', 'not-a-job', undefined],
    ['(bracket)\nN10 G21 G90\n', 'not-a-job', undefined],
    ['G0 X0\n', 'not-a-job', undefined],
    ['  0\r\nSECTION\r\n  2\r\nENTITIES\r\n', 'not-a-job', undefined],
    ['<?xml version="1.0"?><svg/>', 'not-a-job', undefined],
    ['', 'job-empty', undefined],
    ['   \n ', 'job-empty', undefined],
    ['{ "name": "x" ', 'json-syntax', 1],
    ['{\n "name" "x" }', 'json-syntax', 2],
    ['{\n\n "a": 1.2.3 }', 'json-syntax', 3],
    ["{ 'name': 'x' }", 'json-syntax', 1],
    ['not a job at all', 'json-syntax', 1],
    ['{ "name": "x" } trailing', 'json-syntax', 1],
    ['{ "name": "x\n" }', 'json-syntax', 1],
    ['{ /* open', 'json-syntax', 1],
    ['{ "a": NaN }', 'json-number', 1],
    ['{\n"a": -Infinity }', 'json-number', 2],
    ['{\n"a": Infinity }', 'json-number', 2],
    ['\u0000\u0001\u0002ELF', 'file-not-text', 1],
    ['PK\u0003\u0004\ufffd\ufffd', 'file-not-text', 1],
    ['{ "name": "a", "name": "b" }', 'key-twice', 1],
    ['{ "__proto__": { "material": "O1" } }', 'unknown-key', 1],
  ])('%j is %s', (text, code, line) => {
    const [first] = faults(text);
    expect(first).toMatchObject({ code, severity: 'fault' });
    expect(first!.place.file).toBe('job.json');
    expect(first!.place.line).toBe(line);
    expect(first!.wanted + first!.remedy).not.toBe('');
  });

  it.each([
    ['{ "a": [ { "radius": 6,5 } ] }', 'write 6.5'],
    ['{\n "width": 0,25,\n "b": 1 }', 'write 0.25'],
    ['{ "x": -1,5 // left\n }', 'write -1.5'],
  ])('a comma in a number of %j: a decimal point is meant', (text, remedy) => {
    expect(faults(text)[0]).toMatchObject({ code: 'json-number', wanted: 'a decimal point', remedy });
  });

  it.each(['{ "a": 1,x }', '{ "a": 1,2: 3 }', '{ "a": "1",5 }'])('%j is no decimal comma', (text) => {
    expect(faults(text)[0]!.code).toBe('json-syntax');
  });

  it.each(['[]', '3', '"job"', 'null', 'true'])('refuses %s as a job', (text) => {
    expect(theFault(text)).toMatchObject({ code: 'wrong-type' });
  });

  it('refuses a file over 5 million characters unread', () => {
    expect(theFault(`${JSON.stringify(lever())}${' '.repeat(5_000_000)}`).code).toBe('file-too-large');
  });

  it('answers rubbish quickly', () => {
    const started = performance.now();
    const heaps = [
      'x'.repeat(10_000_000),
      '['.repeat(4_900_000),
      '{"a":'.repeat(900_000),
      '1,'.repeat(2_400_000),
      `[${'{},'.repeat(1_500_000)}]`,
      '\n'.repeat(4_000_000),
    ];
    for (const text of heaps) expect(read(text).ok).toBe(false);
    // Generous: two cores shared with other suites.
    expect(performance.now() - started).toBeLessThan(15_000);
  });

  it('tells a numeral too large for a number', () => {
    const text = JSON.stringify(lever()).replace('"thickness":4', '"thickness":1e999');
    expect(theFault(text).code).toBe('json-number');
  });

  it('keeps places of keys and of what is missing', () => {
    const located = readJsonc('{\n "part": {\n  "x": [1, 2]\n }\n}', 'f');
    if (!located.ok) throw new Error('not read');
    expect(located.value.keyPlace(['part', 'x'])).toMatchObject({ line: 3, column: 3 });
    expect(located.value.place(['part', 'x', 1])).toMatchObject({ line: 3, column: 12, path: 'part.x[1]' });
    expect(located.value.place(['part', 'gone'])).toMatchObject({ line: 2, column: 10 });
    expect(spellPath(['part', 'holes', 2, 'ream'])).toBe('part.holes[2].ream');
  });
});
