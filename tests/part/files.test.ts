/** Files that a job names: drawings, machine, cutters. */
import { describe, expect, it } from 'vitest';
import { bad, fault, good } from '../../src/base/problem.ts';
import type { ReadFile } from '../../src/part/drawings.ts';
import { faults, leverWith, readGood, theFault } from './jobs.ts';

const files =
  (content: Record<string, string | Uint8Array>): ReadFile =>
  (name) =>
    name in content
      ? good(content[name]!)
      : bad(fault({ code: 'file-missing', found: `${name} is not there`, wanted: 'a file', remedy: 'check the name' }));

const SQUARE =
  '<svg xmlns="http://www.w3.org/2000/svg" width="2in" height="1in" viewBox="0 0 2 1"><path id="edge" d="M0 0 H2 V1 H0 Z"/><path id="open" d="M0.2 0.2 H1"/></svg>';
const drawn = (outline: object) => ({ material: 'O1', part: { thickness: 3, outline } });

describe('drawings', () => {
  it('an SVG outline in its own units, y turned up', () => {
    const job = readGood(drawn({ svg: 'a.svg', id: 'edge' }), files({ 'a.svg': SQUARE }));
    const xs = job.part.outline.loop.flatMap((s) => [s.a.x, s.b.x]);
    const ys = job.part.outline.loop.flatMap((s) => [s.a.y, s.b.y]);
    expect([Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)]).toEqual([0, 50.8, 0, 25.4]);
    expect(job.part.outline.source).toEqual({ kind: 'drawing', file: 'a.svg' });
  });

  it.each<[object, string, RegExp]>([
    [{ svg: 'b.svg' }, 'file-missing', /b\.svg/],
    [{ svg: 'a.svg', id: 'edg' }, 'unknown-id', /edg/],
    [{ svg: 'a.svg', id: 'open' }, 'open-outline', /./],
    [{ dxf: 'a.svg' }, 'not-dxf', /./],
  ])('%j: %s', (outline, code, found) => {
    const all = faults(drawn(outline), files({ 'a.svg': SQUARE }));
    expect(all).toHaveLength(1);
    expect(all[0]!.code).toBe(code);
    expect(all[0]!.found).toMatch(found);
    expect(all[0]!.place.file).toBeDefined();
  });
});

describe('machine and cutter files', () => {
  const withDrawer = leverWith((j) => (j.cutters = '../shop/drawer.json'));

  it.each<[string, Record<string, string | Uint8Array>, string, string]>([
    ['not there', {}, 'file-missing', 'job.json'],
    ['not JSON', { '../shop/drawer.json': 'cutters' }, 'json-syntax', '../shop/drawer.json'],
    [
      'binary',
      { '../shop/drawer.json': new Uint8Array([0x7f, 0x45, 0x4c, 0x46, 0, 0, 1]) },
      'file-not-text',
      'job.json',
    ],
    [
      'a misspelt key',
      { '../shop/drawer.json': '{ "units": "mm",\n "cuters": [] }' },
      'unknown-key',
      '../shop/drawer.json',
    ],
    [
      'a cutter of nothing',
      { '../shop/drawer.json': '{ "units": "mm",\n "cutters": [ { "number": 1, "kind": "drill", "diameter": 0 } ] }' },
      'out-of-range',
      '../shop/drawer.json',
    ],
    [
      'a number twice',
      {
        '../shop/drawer.json':
          '{ "cutters": [ { "number": 1, "kind": "drill", "diameter": 1 }, { "number": 1, "kind": "drill", "diameter": 2 } ] }',
      },
      'cutter-number-twice',
      '../shop/drawer.json',
    ],
  ])('%s', (_, content, code, file) => {
    const all = faults(withDrawer, files(content));
    expect(all[0]!.code).toBe(code);
    expect(all[0]!.place.file).toBe(file);
  });

  it('says so when such a file does not state its units', () => {
    const job = readGood(
      leverWith((j) => (j.machine = 'mill.json')),
      files({ 'mill.json': '{ "maxFeed": 600 }' }),
    );
    expect(job.machine.maxFeed).toBe(600);
    expect(job.defaults.join(' ')).toContain('mill.json does not state its units');
  });

  it('a machine file is no cutter file', () => {
    expect(
      theFault(
        leverWith((j) => (j.machine = 'mill.json')),
        files({ 'mill.json': '[]' }),
      ).code,
    ).toBe('wrong-type');
  });
});
