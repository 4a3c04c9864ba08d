/** The folder graph is the data flow: every import in src is held against the table in layers.ts. */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';
import { LAYERS, MEDIAN_LINES, MOST_FILES, MOST_LINES, ROOMS } from './layers.ts';

const ROOT = resolve(import.meta.dirname, '../..');

interface Edge {
  readonly from: string;
  readonly to: string;
}

function sourceFiles(): string[] {
  return readdirSync(join(ROOT, 'src'), { recursive: true, encoding: 'utf8' })
    .filter((f) => f.endsWith('.ts'))
    .map((f) => join('src', f))
    .sort();
}

function edgesOf(file: string, text: string): Edge[] {
  return ts.preProcessFile(text, true, true).importedFiles.map(({ fileName }) => ({
    from: file,
    to: fileName.startsWith('.') ? relative(ROOT, resolve(ROOT, dirname(file), fileName)) : packageOf(fileName),
  }));
}

function packageOf(name: string): string {
  if (name.startsWith('node:')) return 'node:';
  return name
    .split('/')
    .slice(0, name.startsWith('@') ? 2 : 1)
    .join('/');
}

/** The longest listed place that holds the file. */
function placeOf(file: string): string | undefined {
  return Object.keys(LAYERS)
    .filter((p) => file === p || file.startsWith(`${p}/`))
    .sort((a, b) => b.length - a.length)[0];
}

function allowed(edge: Edge): boolean {
  const place = placeOf(edge.from);
  if (place === undefined) return false;
  const inside = (p: string) => edge.to === p || edge.to.startsWith(`${p}/`);
  return [place, ...LAYERS[place]!].some(inside);
}

describe('the folder graph', () => {
  const files = sourceFiles();
  const edges = files.flatMap((f) => edgesOf(f, readFileSync(join(ROOT, f), 'utf8')));

  it('is seen at all', () => {
    expect(files.length).toBeGreaterThan(50);
    expect(edges.length).toBeGreaterThan(100);
  });

  it('lists every place', () => {
    expect(files.filter((f) => placeOf(f) === undefined)).toEqual([]);
  });

  it('has no import that the table does not allow', () => {
    expect(edges.filter((e) => !allowed(e)).map((e) => `${e.from} -> ${e.to}`)).toEqual([]);
  });

  it.each([
    ['src/check/exact/gouge.ts', 'src/geometry/offset/offset.ts'],
    ['src/check/exact/gouge.ts', 'src/paths/profile/profile.ts'],
    ['src/check/exact/gouge.ts', 'src/mechanics/cutting/force.ts'],
    ['src/write/lines.ts', 'src/geometry/types.ts'],
    ['src/paths/profile/profile.ts', 'src/hold/ways/choose.ts'],
    ['src/base/text.ts', 'src/trade/source.ts'],
    ['src/plan/plan.ts', 'node:'],
    ['src/show/sheet/sheet.ts', 'three'],
  ])('would catch %s importing %s', (from, to) => {
    expect(allowed({ from, to })).toBe(false);
  });
});

/** The room of a folder that a file stands in; undefined: in the folder itself, or elsewhere. */
function roomOf(folder: string, file: string): string | undefined {
  if (!file.startsWith(`${folder}/`)) return undefined;
  const [room, ...rest] = file.slice(folder.length + 1).split('/');
  return rest.length > 0 ? room : undefined;
}

describe.each(Object.entries(ROOMS))('the rooms of %s', (folder, rooms) => {
  const files = sourceFiles();
  const crossing = files
    .flatMap((f) => edgesOf(f, readFileSync(join(ROOT, f), 'utf8')))
    .map((e) => ({ ...e, a: roomOf(folder, e.from), b: roomOf(folder, e.to) }))
    .filter(({ a, b }) => a !== undefined && b !== undefined && a !== b);

  it('are all listed, and all there', () => {
    const found = new Set(files.map((f) => roomOf(folder, f)).filter((r) => r !== undefined));
    expect([...found].sort()).toEqual([...rooms].sort());
  });

  it('import only rooms before them', () => {
    const back = crossing.filter(({ a, b }) => rooms.indexOf(b!) > rooms.indexOf(a!));
    expect(back.map((e) => `${e.from} -> ${e.to}`)).toEqual([]);
  });
});

describe('folder sizes', () => {
  it(`no folder has over ${MOST_FILES} files`, () => {
    const counts = new Map<string, number>();
    for (const f of sourceFiles()) counts.set(dirname(f), (counts.get(dirname(f)) ?? 0) + 1);
    expect(counts.size).toBeGreaterThan(30);
    expect([...counts].filter(([, n]) => n > MOST_FILES)).toEqual([]);
  });
});

describe('file sizes', () => {
  const sizes = sourceFiles().map((f) => [f, readFileSync(join(ROOT, f), 'utf8').split('\n').length] as const);

  it(`no file has over ${MOST_LINES} lines`, () => {
    expect(sizes.filter(([, n]) => n > MOST_LINES)).toEqual([]);
  });

  it(`the median is under ${MEDIAN_LINES} lines`, () => {
    const sorted = sizes.map(([, n]) => n).sort((a, b) => a - b);
    expect(sorted[Math.floor(sorted.length / 2)]).toBeLessThan(MEDIAN_LINES);
  });
});
