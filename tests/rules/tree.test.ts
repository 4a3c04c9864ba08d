/** What may stand in the repository, and where. */
import { execFileSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ROOT } from '../helpers.ts';
import { codeList } from './codes.mjs';

/** Top level of the repository; dot-files apart. */
const TOP = [
  'CHANGELOG.md',
  'DEVELOPERS.md',
  'LICENSE',
  'README.md',
  'package-lock.json',
  'package.json',
  'posts',
  'samples',
  'src',
  'tests',
  'tsconfig.json',
];

/** Committed files, or those to be: what git would not ignore. */
const FILES = execFileSync('git', ['ls-files', '--cached', '--others', '--exclude-standard'], {
  cwd: ROOT,
  encoding: 'utf8',
})
  .split('\n')
  .filter((f) => f !== '' && existsSync(join(ROOT, f)));

const TEXTS = FILES.filter(
  (f) => /\.(ts|mjs|js|json|md|css|html|svg|ngc|dxf|py)$|^\.ci\//.test(f) && f !== 'package-lock.json',
);

describe('the tree', () => {
  it('is seen', () => {
    expect(FILES.length).toBeGreaterThan(300);
    expect(TEXTS.length).toBeGreaterThan(300);
  });

  it('has a fixed top level', () => {
    const top = new Set(FILES.map((f) => f.split('/')[0]!).filter((f) => !f.startsWith('.')));
    expect([...top].sort()).toEqual(TOP);
  });

  it('has a folder of tests, not empty, for every folder of the source', () => {
    const folders = readdirSync(join(ROOT, 'src'), { withFileTypes: true }).filter((d) => d.isDirectory());
    expect(folders.length).toBeGreaterThan(10);
    const untested = folders
      .filter(({ name }) => !FILES.some((f) => f.startsWith(`tests/${name}/`) && f.endsWith('.test.ts')))
      .map((d) => d.name);
    expect(untested).toEqual([]);
  });
});

describe('no committed text', () => {
  const found = (pattern: RegExp): string[] =>
    TEXTS.flatMap((f) =>
      readFileSync(join(ROOT, f), 'utf8')
        .split('\n')
        .flatMap((line, i) => (pattern.test(line) ? [`${f}:${i + 1}: ${line.trim().slice(0, 100)}`] : [])),
    );

  it('names a place on the machine it was written on', () => {
    // Spelt in pieces, so that this line is not found itself.
    const places = ['home', 'work', 'root', 'tmp', 'Users', 'mnt'].join('|');
    expect(found(new RegExp(`(^|[\\s'"\`(=])/(${places})/`))).toEqual([]);
  });

  it('speaks of how it was written', () => {
    const words = [
      'clau' + 'de',
      'anthro' + 'pic',
      'open' + 'ai',
      'chat' + 'gpt',
      'co' + 'pilot',
      'sub-?ag' + 'ent',
      'language mod' + 'el',
      'the bri' + 'ef',
    ];
    expect(found(new RegExp(`\\b(${words.join('|')})\\b`, 'i'))).toEqual([]);
    expect(found(/\b(issue|ticket|pull request) #?\d/i)).toEqual([]);
  });

  it('points to a document that is not here', () => {
    const pointed = TEXTS.flatMap((f) =>
      [...readFileSync(join(ROOT, f), 'utf8').matchAll(/\b([A-Za-z][\w-]*\.md)\b/g)].map((m) => [f, m[1]!] as const),
    );
    const known = new Set(FILES.map((f) => f.split('/').at(-1)!));
    expect(pointed.length).toBeGreaterThan(0);
    expect(pointed.filter(([, name]) => !known.has(name)).map(([f, name]) => `${f}: ${name}`)).toEqual([]);
  });
});

describe('the README', () => {
  it('lists every problem code of the source (`npm run golden` writes the list)', () => {
    const text = readFileSync(join(ROOT, 'README.md'), 'utf8');
    const list = /<!-- codes -->\n\n([\s\S]*?)\n<!-- end of codes -->/.exec(text)?.[1];
    const codes = codeList(ROOT);
    expect(codes.match(/`/g)!.length).toBeGreaterThan(300);
    expect(list).toBe(codes);
  });
});
