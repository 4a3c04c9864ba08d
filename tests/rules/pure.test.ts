/**
 * The core runs in a browser as in Node: neither's own names stand in it. `npm run laws` proves it by types (src/tsconfig.pure.json);
 * here the names are looked for as words, which is quick.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { ROOT } from '../helpers.ts';

const NAMES =
  /(?<![.\w'"`$-])(document|window|navigator|localStorage|HTMLElement|process|Buffer|console|setTimeout|setInterval|requestAnimationFrame|fetch|require|__dirname|globalThis)(?=[.([])/;

function filesOf(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((e) =>
    e.isDirectory() ? filesOf(join(folder, e.name)) : e.name.endsWith('.ts') ? [join(folder, e.name)] : [],
  );
}

/** Without comments and the words of strings and patterns. */
function code(text: string): string {
  return text
    .replace(/\/\*[\s\S]*?\*\//g, '')
    .replace(/'(?:[^'\\\n]|\\.)*'|"(?:[^"\\\n]|\\.)*"|`(?:[^`\\]|\\.)*`/g, "''")
    .replace(/\/\/.*$/gm, '');
}

it('the core names nothing that only a browser or only Node has', () => {
  const core = filesOf(join(ROOT, 'src')).filter((f) => !/src\/(cli|show\/page)\//.test(f));
  expect(core.length).toBeGreaterThan(300);
  const found = core.flatMap((f) => {
    const name = NAMES.exec(code(readFileSync(f, 'utf8')));
    return name === null ? [] : [`${f}: ${name[1]}`];
  });
  expect(found).toEqual([]);
  expect(NAMES.test(code('const a = document.body;'))).toBe(true);
  expect(NAMES.test(code("const a = 'document.body'; // window.alert(1)"))).toBe(false);
});
