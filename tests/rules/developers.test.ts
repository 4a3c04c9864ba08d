/** The contributors' map names files that are there. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join, sep } from 'node:path';
import { expect, it } from 'vitest';
import { ROOT } from '../helpers.ts';

it('every file named in DEVELOPERS.md exists', () => {
  const text = readFileSync(join(ROOT, 'DEVELOPERS.md'), 'utf8');
  const named = [...text.matchAll(/`([\w/-]+\.(?:ts|mjs|json))`/g)].map((m) => m[1]!).filter((f) => !/[A-Z]/.test(f));
  const source = readdirSync(join(ROOT, 'src'), { recursive: true, encoding: 'utf8' }).map(
    (f) => `/${f.split(sep).join('/')}`,
  );
  expect(named.length).toBeGreaterThan(30);
  // A name alone, or with a part of its path, means the one place in `src` that ends so.
  const there = (f: string) => existsSync(join(ROOT, f)) || source.some((s) => s.endsWith(`/${f}`));
  expect([...new Set(named)].filter((f) => !f.startsWith('dist/') && f !== 'plan.json' && !there(f))).toEqual([]);
});
