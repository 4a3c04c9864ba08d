/**
 * Engines approximate these each in its own way, and one job must give the same bytes in all of them: src/base/angles.ts and powers.ts have
 * our own. Math.hypot, Math.sqrt and `** 2` may stand: the engines tried agree on every one (DEVELOPERS.md, section 5).
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { expect, it } from 'vitest';
import { ROOT } from '../helpers.ts';

const RAW =
  /Math\.(?:sin|cos|tan|asin|acos|atan|atan2|sinh|cosh|tanh|asinh|acosh|atanh|exp|expm1|log|log1p|log2|log10|pow|cbrt)\b|\*\*=?(?! 2\b)/;

/** Pictures, which go to no file, and the constants of a hash, of which 32 bits are kept. */
const FREE = ['src/show/page/app/', 'src/show/page/worker/', 'src/show/page/sha256.ts'];

/** Without comments and the words of strings. */
function code(text: string): string {
  return text
    .replace(/\/\*[\s\S]*?\*\//g, '')
    .replace(/'(?:[^'\\\n]|\\.)*'|`(?:[^`\\]|\\.)*`/g, (words) =>
      words.includes('${') ? words.replace(/\*\*/g, '') : "''",
    )
    .replace(/\/\/.*$/gm, '');
}

it('no function that engines approximate stands in what reaches a file', () => {
  const files = readdirSync(join(ROOT, 'src'), { recursive: true, encoding: 'utf8' })
    .map((f) => relative(ROOT, join(ROOT, 'src', f)).replaceAll('\\', '/'))
    .filter((f) => f.endsWith('.ts') && !FREE.some((free) => f.startsWith(free)));
  expect(files.length).toBeGreaterThan(400);
  const found = files.flatMap((f) => {
    const raw = RAW.exec(code(readFileSync(join(ROOT, f), 'utf8')));
    return raw === null ? [] : [`${f}: ${raw[0]}`];
  });
  expect(found).toEqual([]);
  for (const bad of ['Math.sin(x)', 'a ** -b', 'a ** 0.25', 'a ** 3', 'Math.pow(a, b)', 'a **= b'])
    expect(RAW.test(bad), bad).toBe(true);
  for (const good of ['Math.sqrt(x)', 'a ** 2', 'Math.hypot(a, b)', 'Math.sign(a)'])
    expect(RAW.test(good), good).toBe(false);
});
