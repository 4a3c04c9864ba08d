/**
 * Rules of the house that a parser can see: nothing that no entry reaches, at most five parameters, one meaning for a type's
 * name, no state in modules of the core. What still breaks one is counted for each folder; a count may only go down.
 */
import { describe, expect, it } from 'vitest';
import { MOST_UNREACHED, MOST_WITH_LONG_SIGNATURES, MOST_WITH_STATE, SHARED_TYPE_NAMES } from './house.ts';
import {
  entries,
  longSignatures,
  moduleState,
  parse,
  type SourceFile,
  sharedTypeNames,
  unreached,
  wholeSource,
} from './source.ts';

const FILES = wholeSource();
const MOST_PARAMETERS = 5;

/** Lines by folder of `src`, where there are more or fewer of them than is counted: a count that is not needed any more must go down. */
function miscounted(found: readonly string[], most: Readonly<Record<string, number>>): Record<string, string[]> {
  const folders: Record<string, string[]> = {};
  for (const line of found) {
    const folder = /^src\/[\w.-]+/.exec(line)![0];
    folders[folder] = [...(folders[folder] ?? []), line];
  }
  for (const folder of Object.keys(most)) folders[folder] ??= [];
  return Object.fromEntries(Object.entries(folders).filter(([f, lines]) => lines.length !== (most[f] ?? 0)));
}

const spreadsLiteral = ({ tree }: SourceFile): boolean => /^\s*\.\.\.\{ .* \},$/m.test(tree.text);

describe('the source', () => {
  it('is seen', () => {
    expect(FILES.length).toBeGreaterThan(300);
    expect(entries().length).toBeGreaterThanOrEqual(3);
  });

  it('exports nothing that no entry reaches', () => {
    expect(miscounted(unreached(FILES, entries()), MOST_UNREACHED)).toEqual({});
  });

  it(`has no function with over ${MOST_PARAMETERS} parameters`, () => {
    expect(miscounted(longSignatures(FILES, MOST_PARAMETERS), MOST_WITH_LONG_SIGNATURES)).toEqual({});
  });

  it('gives no two things one type name', () => {
    const shared = [...sharedTypeNames(FILES)].map(([name, at]) => `${name}: ${at.join(' ')}`);
    expect(shared.map((line) => line.split(':')[0])).toEqual(SHARED_TYPE_NAMES);
  });

  it('spreads no object only to keep its keys on one line', () => {
    expect(FILES.filter(spreadsLiteral).map(({ path }) => path)).toEqual([]);
    expect(spreadsLiteral(parse('src/a.ts', 'const a = {\n  ...{ b, c: 1 },\n};'))).toBe(true);
    expect(spreadsLiteral(parse('src/a.ts', 'const a = {\n  ...b,\n  ...(c ? { d } : {}),\n};'))).toBe(false);
  });

  it('keeps no state in modules of the core', () => {
    const core = FILES.filter(({ path }) => !/^src\/(cli|show\/page)\//.test(path));
    expect(miscounted(moduleState(core), MOST_WITH_STATE)).toEqual({});
  });
});

describe('the rules themselves', () => {
  it('see what only its own file uses, through what is reached and through a second name', () => {
    const files = [
      parse('src/a.ts', `import { used as mine } from './b.ts'; export { again } from './b.ts'; mine();`),
      parse(
        'src/b.ts',
        `export function used() { return part; } const part = inner(); function inner() { return 1; }
        export function again() {} export function lost() { return lone(); } export const lone = () => part;`,
      ),
    ];
    expect(unreached(files, ['src/a.ts'])).toEqual(['src/b.ts lost', 'src/b.ts lone']);
  });

  it('count parameters of functions, methods, arrows and types, but not `this`', () => {
    const text = `function f(a, b) {} const g = (a, b) => 1; class C { m(a, b) {} } type T = (a, b) => void; function h(this: C, a) {}`;
    const found = longSignatures([parse('src/a.ts', text)], 1);
    expect(found).toEqual(['f', 'g', 'm', 'function'].map((n) => `src/a.ts:1 ${n} (2)`));
  });

  it('see one name in two files, and not two declarations in one', () => {
    const files = [
      parse('src/a.ts', 'interface Twice {} type Once = 1; interface Merged {} interface Merged {}'),
      parse('src/b.ts', 'export class Twice {}'),
    ];
    expect([...sharedTypeNames(files)]).toEqual([['Twice', ['src/a.ts', 'src/b.ts']]]);
  });

  it('see state, and no table that is only read', () => {
    const state = `let a = 1; const b = new WeakMap(); const c = new Map(); const d = []; const e = {}; const f = new Float64Array(3);
      function w(x) { c.set(x, 1); d.push(x); e.now = x; }`;
    const tables = `const g = new Map([[1, 2]]); const h = [1, 2]; const i = new Set('ab'); const d = {};
      function r(x) { const d = []; d.push(g.get(x)); return d; }`;
    expect(moduleState([parse('src/a.ts', state)]).map((l) => l.split(' ')[1])).toEqual(['a', 'b', 'c', 'd', 'e', 'f']);
    expect(moduleState([parse('src/b.ts', tables)])).toEqual([]);
  });
});
