/** House rule: every code with which a job file is refused is met in a test of this folder. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, sep } from 'node:path';
import { describe, expect, it } from 'vitest';

const sources = join(import.meta.dirname, '../../src/part');
const read = (folder: string, ending: string): string =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((f) => f.endsWith(ending) && !f.startsWith(`drawing${sep}`))
    .map((f) => readFileSync(join(folder, f), 'utf8'))
    .join('\n');

/** The answer to a complaint of the schema library that no rule of ours can raise today. */
const FALLBACK = 'wrong-value';

describe('codes', () => {
  it('each is short, in kebab case, and met in a test', () => {
    const source = read(sources, '.ts');
    // Types of the schema library's own complaints are none of ours.
    const codes = new Set(
      [...source.replace(/Extract<[^>]*>/g, '').matchAll(/\b(?:clash\(|code:)\s*'([^']+)'/g)].map((m) => m[1]!),
    );
    const tests = read(import.meta.dirname, '.test.ts');
    expect(codes.size).toBeGreaterThan(70);
    for (const code of codes) expect(code).toMatch(/^[a-z]+(-[a-z]+)*$/);
    expect([...codes].filter((code) => code !== FALLBACK && !tests.includes(`'${code}'`)).toSorted()).toEqual([]);
  });
});
