/** Every sample reads without a fault or a caution, and the JSON Schema takes every key of it. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'jsonc-parser';
import { describe, expect, it } from 'vitest';
import { bad, fault, good } from '../../src/base/problem.ts';
import type { ReadFile } from '../../src/part/drawings.ts';
import { readJob } from '../../src/part/read.ts';
import { emitJobSchema } from '../../src/part/schema/emit.ts';

const folder = join(import.meta.dirname, '../../samples');
const jobs = readdirSync(folder).filter((f) => f.endsWith('.json'));
const fromFolder: ReadFile = (name) => {
  const path = join(folder, name);
  return existsSync(path)
    ? good(readFileSync(path))
    : bad(fault({ code: 'file-missing', found: `${name} is not there`, wanted: '', remedy: '' }));
};

/** The part of JSON Schema draft 7 that the job schema uses. */
function accepts(schema: any, value: any): boolean {
  if (schema.anyOf !== undefined && !schema.anyOf.some((s: any) => accepts(s, value))) return false;
  if (schema.oneOf !== undefined && schema.oneOf.filter((s: any) => accepts(s, value)).length !== 1) return false;
  if (schema.const !== undefined && schema.const !== value) return false;
  if (schema.enum !== undefined && !schema.enum.includes(value)) return false;
  switch (schema.type) {
    case 'object':
      if (typeof value !== 'object' || value === null || Array.isArray(value)) return false;
      if ((schema.required ?? []).some((k: string) => !(k in value))) return false;
      return Object.entries(value).every(
        ([k, v]) => schema.properties[k] !== undefined && accepts(schema.properties[k], v),
      );
    case 'array': {
      if (!Array.isArray(value)) return false;
      if (!Array.isArray(schema.items)) return value.every((v) => accepts(schema.items, v));
      return value.length === schema.items.length && schema.items.every((s: any, i: number) => accepts(s, value[i]));
    }
    case 'number':
      return (
        typeof value === 'number' &&
        value >= (schema.minimum ?? -Infinity) &&
        value > (schema.exclusiveMinimum ?? -Infinity) &&
        value <= (schema.maximum ?? Infinity)
      );
    case 'integer':
      return Number.isInteger(value) && value >= (schema.minimum ?? -Infinity) && value <= (schema.maximum ?? Infinity);
    case 'string':
      return typeof value === 'string';
    case 'boolean':
      return typeof value === 'boolean';
    default:
      return schema.anyOf !== undefined || schema.oneOf !== undefined;
  }
}

describe('samples', () => {
  it('are those of the scenario', () => {
    expect(jobs.map((f) => f.replace('.json', ''))).toEqual(
      expect.arrayContaining(['lifting-lever', 'warning-lever', 'click', 'rack-arm', 'minute-hand', 'frame-cock']),
    );
  });

  it.each(jobs)('%s reads clean', (file) => {
    const outcome = readJob(readFileSync(join(folder, file), 'utf8'), file, { read: fromFolder });
    expect(outcome.problems.filter((p) => p.severity !== 'note')).toEqual([]);
    expect(outcome.ok).toBe(true);
  });

  it.each(jobs)('the JSON Schema takes %s, and not with a key misspelt', (file) => {
    const schema = emitJobSchema();
    const job = parse(readFileSync(join(folder, file), 'utf8'), [], { allowTrailingComma: true });
    expect(accepts(schema, job)).toBe(true);
    expect(accepts(schema, { ...job, materiel: 'O1' })).toBe(false);
    expect(accepts(schema, { ...job, part: { ...job.part, thicknes: 1 } })).toBe(false);
  });

  it('the frame cock has the outline of its drawing: area by hand', () => {
    const outcome = readJob(readFileSync(join(folder, 'frame-cock.json'), 'utf8'), 'frame-cock.json', {
      read: fromFolder,
    });
    if (!outcome.ok) throw new Error('not read');
    const box = outcome.value.part.outline.loop.flatMap((s) => [s.a.x, s.a.y]);
    expect(Math.max(...box)).toBeCloseTo(36, 3);
    expect(outcome.value.part.outline.source).toEqual({ kind: 'drawing', file: 'frame-cock.dxf' });
    expect(outcome.value.part.outline.inner).toEqual([]);
  });
});
