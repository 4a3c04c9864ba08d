import { expect, test } from 'vitest';
import * as cautions from '../../src/trade/cautions.ts';
import * as drawer from '../../src/trade/drawer.ts';
import * as fits from '../../src/trade/fits.ts';
import * as holding from '../../src/trade/holding-rules.ts';
import * as holes from '../../src/trade/hole-rules.ts';
import * as iso286 from '../../src/trade/iso286.ts';
import * as machine from '../../src/trade/machine.ts';
import * as materials from '../../src/trade/materials/materials.ts';
import * as milling from '../../src/trade/milling-rules.ts';
import * as stock from '../../src/trade/stock.ts';
import * as clearance from '../../src/trade/threads/clearance.ts';
import * as drills from '../../src/trade/threads/drills.ts';
import * as heads from '../../src/trade/threads/heads.ts';
import * as screws from '../../src/trade/threads/screws.ts';
import * as threads from '../../src/trade/threads/threads.ts';

const MARKS = ['published', 'common practice', 'from memory', 'computed'];
const MODULES = {
  ...{ cautions, clearance, drawer, drills, fits, heads, holding, holes, iso286, machine, materials, milling, screws },
  ...{ stock, threads },
};

/** Column heads: the sizes at which a table beside them steps. */
const EXPLAINED = ['SIZE_STEPS', 'GENERAL_STEPS'];

interface Seen {
  sourced: number;
  readonly bare: string[];
}

/** Every number in an exported table must lie in an object with a source and a mark, at some level above it. */
function walk(value: unknown, place: string, covered: boolean, seen: Seen): void {
  if (typeof value === 'function' || typeof value === 'string' || typeof value === 'boolean') return;
  if (typeof value === 'number') {
    if (!covered) seen.bare.push(place);
    return;
  }
  if (value === null || typeof value !== 'object') return;
  const row = value as Record<string, unknown>;
  const has = 'mark' in row;
  if (has) {
    expect(MARKS, place).toContain(row.mark);
    expect(String(row.source ?? '').trim().length, place).toBeGreaterThan(2);
    seen.sourced++;
  }
  for (const [key, inner] of Object.entries(row)) walk(inner, `${place}.${key}`, covered || has, seen);
}

test('every figure of every exported table lies under a source and a mark', () => {
  const seen: Seen = { sourced: 0, bare: [] };
  for (const [name, module] of Object.entries(MODULES))
    for (const [key, value] of Object.entries(module))
      if (!EXPLAINED.includes(key)) walk(value, `${name}.${key}`, false, seen);
  walk(drawer.defaultDrawer(), 'drawer', false, seen);
  expect(seen.bare).toEqual([]);
  expect(seen.sourced).toBeGreaterThan(1000);
});

test('no figure is missing or infinite', () => {
  const all = JSON.stringify(MODULES);
  // JSON writes NaN and infinities as null; the only nulls allowed are the stated ones.
  const nulls = all.match(/"([a-zA-Z0-9]+)":null/g) ?? [];
  const stated = ['fine', 'coarse', 'yield', 'hardness', 'first', 'depth', 'headDiameter', 'headHeight', 'thread'];
  expect(nulls.length).toBeGreaterThan(0);
  for (const n of nulls) expect(stated).toContain(n.slice(1, n.indexOf('"', 1)));
});
