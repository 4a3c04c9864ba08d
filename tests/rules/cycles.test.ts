/**
 * Cycles between files and files that nobody uses, by the imports that are left when types are gone. Own reading of the
 * imports: a cruise of the same tree by a general tool gave the same answer at ten times the time.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';
import { ROOT } from '../helpers.ts';

const FILES = readdirSync(join(ROOT, 'src'), { recursive: true, encoding: 'utf8' })
  .filter((f) => f.endsWith('.ts') && !f.endsWith('.d.ts'))
  .map((f) => join('src', f))
  .sort();

interface Imports {
  /** Files whose code is run. */
  readonly run: readonly string[];
  /** Those, and files whose types alone are used. */
  readonly all: readonly string[];
}

const GRAPH = new Map(FILES.map((f) => [f, importsOf(f)]));

function importsOf(file: string): Imports {
  const source = ts.createSourceFile(file, readFileSync(join(ROOT, file), 'utf8'), ts.ScriptTarget.Latest);
  const run: string[] = [];
  const all: string[] = [];
  const take = (name: string, types: boolean) => {
    if (!name.startsWith('.')) return;
    const path = relative(ROOT, resolve(ROOT, dirname(file), name));
    all.push(path);
    if (!types) run.push(path);
  };
  for (const s of source.statements) {
    if (ts.isImportDeclaration(s) && ts.isStringLiteral(s.moduleSpecifier)) {
      take(s.moduleSpecifier.text, isTypesOnly(s.importClause));
    }
    if (ts.isExportDeclaration(s) && s.moduleSpecifier && ts.isStringLiteral(s.moduleSpecifier)) {
      take(s.moduleSpecifier.text, s.isTypeOnly);
    }
  }
  return { run, all };
}

function isTypesOnly(clause: ts.ImportClause | undefined): boolean {
  if (clause === undefined) return false;
  if (clause.phaseModifier === ts.SyntaxKind.TypeKeyword) return true;
  const names = clause.namedBindings;
  const each = names !== undefined && ts.isNamedImports(names) ? names.elements : [];
  return clause.name === undefined && each.length > 0 && each.every((e) => e.isTypeOnly);
}

/** Groups of files that reach each other (Tarjan 1972), each as one sorted line. */
function tangles(edges: ReadonlyMap<string, readonly string[]>): string[] {
  const index = new Map<string, number>();
  const low = new Map<string, number>();
  const stack: string[] = [];
  const out: string[] = [];
  const visit = (v: string): void => {
    index.set(v, index.size);
    low.set(v, index.get(v)!);
    stack.push(v);
    for (const w of edges.get(v) ?? []) {
      if (!index.has(w)) visit(w);
      if (stack.includes(w)) low.set(v, Math.min(low.get(v)!, low.get(w)!));
    }
    if (low.get(v) !== index.get(v)) return;
    const group = stack.splice(stack.indexOf(v));
    if (group.length > 1) out.push(group.sort().join(' '));
  };
  for (const v of edges.keys()) if (!index.has(v)) visit(v);
  return out.sort();
}

describe('files', () => {
  it('are seen, and so are their imports', () => {
    expect(FILES.length).toBeGreaterThan(200);
    expect([...GRAPH.values()].reduce((n, i) => n + i.run.length, 0)).toBeGreaterThan(500);
  });

  it('run in no circle', () => {
    expect(tangles(new Map([...GRAPH].map(([f, i]) => [f, i.run])))).toEqual([]);
  });

  it('a circle would be found', () => {
    expect(
      tangles(
        new Map([
          ['a', ['b']],
          ['b', ['c']],
          ['c', ['a', 'd']],
          ['d', []],
        ]),
      ),
    ).toEqual(['a b c']);
  });

  /** Contracts that stand with their tests before the holding calls them. */
  const NOT_CALLED_YET = ['contact', 'held', 'modes'].map((f) => `src/mechanics/elastic/${f}.ts`);

  it('are all used: each is an entry of the build or imported by another', () => {
    const builds = ['src/bundle.mjs', 'src/show/page/bundle.mjs']
      .map((f) => readFileSync(join(ROOT, f), 'utf8'))
      .join('\n');
    const entries = [...builds.matchAll(/'((?:src|app)\/[\w/-]+\.ts|worker\/worker\.ts)'/g)].map((m) =>
      m[1]!.startsWith('src/') ? m[1]! : `src/show/page/${m[1]}`,
    );
    expect(entries.filter((f) => !FILES.includes(f))).toEqual([]);
    expect(entries.length).toBeGreaterThanOrEqual(3);
    const used = new Set([...entries, ...NOT_CALLED_YET, ...[...GRAPH.values()].flatMap((i) => i.all)]);
    expect(FILES.filter((f) => !used.has(f))).toEqual([]);
  });
});
