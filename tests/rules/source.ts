/** The source as a parser sees it, for rules that look into files. Names are matched by spelling, so a rule errs towards "used". */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import ts from 'typescript';

const ROOT = resolve(import.meta.dirname, '../..');

export interface SourceFile {
  /** From the root of the repository, with slashes. */
  readonly path: string;
  readonly tree: ts.SourceFile;
}

export function parse(path: string, text: string): SourceFile {
  return { path, tree: ts.createSourceFile(path, text, ts.ScriptTarget.Latest, true) };
}

export function wholeSource(): SourceFile[] {
  return readdirSync(join(ROOT, 'src'), { recursive: true, encoding: 'utf8' })
    .filter((f) => f.endsWith('.ts') && !f.endsWith('.d.ts'))
    .map((f) => `src/${f.replaceAll('\\', '/')}`)
    .sort()
    .map((f) => parse(f, readFileSync(join(ROOT, f), 'utf8')));
}

/** What the builds start from. */
export function entries(): string[] {
  const builds = ['src/bundle.mjs', 'src/show/page/bundle.mjs'].map((f) => readFileSync(join(ROOT, f), 'utf8'));
  return [...builds.join('\n').matchAll(/'((?:src|app)\/[\w/-]+\.ts|worker\/worker\.ts)'/g)].map((m) =>
    m[1]!.startsWith('src/') ? m[1]! : `src/show/page/${m[1]}`,
  );
}

/** Exported names, `path name`, that nothing reaches which starts at an entry: declarations and the names that each uses. */
export function unreached(files: readonly SourceFile[], starts: readonly string[]): string[] {
  const graph = new Map<string, readonly string[]>();
  const exported: string[] = [];
  for (const file of files) {
    const imports = importsOf(file);
    const own = declarationsOf(file);
    const key = (name: string) => (own.has(name) ? `${file.path} ${name}` : imports.get(name));
    const uses = (node: ts.Node) => [...namesIn(node)].map(key).filter((k) => k !== undefined);
    for (const [name, nodes] of own) graph.set(`${file.path} ${name}`, nodes.flatMap(uses));
    graph.set(file.path, file.tree.statements.filter((s) => !isDeclaration(s)).flatMap(uses));
    for (const s of file.tree.statements)
      if (isExported(s)) exported.push(...namesOf(s).map((n) => `${file.path} ${n}`));
    for (const [name, target] of reExportsOf(file)) graph.set(`${file.path} ${name}`, [target]);
  }
  const seen = new Set<string>();
  const visit = (key: string): void => {
    if (seen.has(key)) return;
    seen.add(key);
    for (const k of graph.get(key) ?? []) visit(k);
    const path = key.split(' ')[0]!;
    if (path !== key) visit(path);
  };
  for (const start of starts) {
    visit(start);
    for (const key of graph.keys()) if (key.startsWith(`${start} `)) visit(key);
  }
  return exported.filter((key) => !seen.has(key));
}

/** `path:line name (n)` of every function, method and function type that takes more than `most` parameters. */
export function longSignatures(files: readonly SourceFile[], most: number): string[] {
  return files.flatMap(({ path, tree }) => {
    const found: string[] = [];
    walk(tree, (node) => {
      if (!ts.isFunctionLike(node)) return;
      const given = node.parameters.filter((p) => p.name.getText() !== 'this').length;
      if (given <= most) return;
      const named = node.name ?? (ts.isVariableDeclaration(node.parent) ? node.parent.name : undefined);
      found.push(`${path}:${lineOf(node)} ${named?.getText() ?? 'function'} (${given})`);
    });
    return found;
  });
}

/** Names of types, interfaces and classes that stand in two or more files, with those files. */
export function sharedTypeNames(files: readonly SourceFile[]): Map<string, string[]> {
  const places = new Map<string, string[]>();
  for (const { path, tree } of files) {
    for (const s of tree.statements) {
      if (!ts.isInterfaceDeclaration(s) && !ts.isTypeAliasDeclaration(s) && !ts.isClassDeclaration(s)) continue;
      const name = s.name!.text;
      const before = places.get(name) ?? [];
      if (!before.includes(path)) places.set(name, [...before, path]);
    }
  }
  return new Map([...places].filter(([, at]) => at.length > 1));
}

const WRITERS = /^(set|add|delete|clear|push|pop|shift|unshift|splice|sort|reverse|fill|copyWithin)$/;

/**
 * Module state that can change, `path:line name`: every `let`, every WeakMap and WeakSet, every typed array of zeros, and each
 * constant whose entries this file writes.
 */
export function moduleState(files: readonly SourceFile[]): string[] {
  return files.flatMap(({ path, tree }) => {
    const written = writtenNames(tree);
    return tree.statements.filter(ts.isVariableStatement).flatMap((statement) =>
      statement.declarationList.declarations
        .filter((d) => {
          const changes = (statement.declarationList.flags & ts.NodeFlags.Const) === 0 || isStore(d.initializer);
          return changes || [...namesIn(d.name)].some((n) => written.has(n));
        })
        .map((d) => `${path}:${lineOf(d)} ${d.name.getText()}`),
    );
  });
}

function isStore(value: ts.Expression | undefined): boolean {
  if (value === undefined || !ts.isNewExpression(value)) return false;
  const kind = value.expression.getText();
  const first = value.arguments?.[0];
  return /^Weak(Map|Set)$/.test(kind) || (/^\w+Array$/.test(kind) && !!first && !ts.isArrayLiteralExpression(first));
}

/** Names at the root of what is assigned to or changed by a method: `x` of `x.list[3].push(1)`. */
function writtenNames(tree: ts.SourceFile): Set<string> {
  const names = new Set<string>();
  const root = (e: ts.Node): void => {
    if (ts.isIdentifier(e)) names.add(e.text);
    else if (ts.isPropertyAccessExpression(e) || ts.isElementAccessExpression(e) || ts.isNonNullExpression(e))
      root(e.expression);
  };
  const local = new Set<string>();
  walk(tree, (node) => {
    if (ts.isBinaryExpression(node) && isAssignment(node.operatorToken.kind)) root(node.left);
    if (ts.isPrefixUnaryExpression(node) || ts.isPostfixUnaryExpression(node)) {
      if (/^(\+\+|--)/.test(node.getText()) || /(\+\+|--)$/.test(node.getText())) root(node.operand);
    }
    if (ts.isCallExpression(node) && ts.isPropertyAccessExpression(node.expression)) {
      if (WRITERS.test(node.expression.name.text)) root(node.expression.expression);
    }
    // A name that a function declares for itself is another thing.
    if ((ts.isVariableDeclaration(node) || ts.isParameter(node)) && !isTop(node))
      for (const n of namesIn(node.name)) local.add(n);
  });
  return new Set([...names].filter((n) => !local.has(n)));
}

function isTop(node: ts.Node): boolean {
  return ts.isVariableDeclaration(node) && ts.isSourceFile(node.parent.parent.parent);
}

function isAssignment(kind: ts.SyntaxKind): boolean {
  return kind >= ts.SyntaxKind.FirstAssignment && kind <= ts.SyntaxKind.LastAssignment;
}

function walk(node: ts.Node, see: (node: ts.Node) => void): void {
  see(node);
  ts.forEachChild(node, (child) => walk(child, see));
}

function lineOf(node: ts.Node): number {
  const tree = node.getSourceFile();
  return tree.getLineAndCharacterOfPosition(node.getStart(tree)).line + 1;
}

function namesIn(node: ts.Node): Set<string> {
  const names = new Set<string>();
  walk(node, (n) => {
    if (ts.isIdentifier(n)) names.add(n.text);
  });
  return names;
}

function isDeclaration(s: ts.Statement): boolean {
  return ts.isImportDeclaration(s) || ts.isExportDeclaration(s) || namesOf(s).length > 0;
}

function isExported(s: ts.Statement): boolean {
  return ts.canHaveModifiers(s) && !!ts.getModifiers(s)?.some((m) => m.kind === ts.SyntaxKind.ExportKeyword);
}

function namesOf(s: ts.Statement): string[] {
  if (ts.isVariableStatement(s)) return s.declarationList.declarations.flatMap((d) => [...namesIn(d.name)]);
  const named =
    ts.isFunctionDeclaration(s) ||
    ts.isClassDeclaration(s) ||
    ts.isInterfaceDeclaration(s) ||
    ts.isTypeAliasDeclaration(s);
  return named && s.name ? [s.name.text] : [];
}

function declarationsOf({ tree }: SourceFile): Map<string, ts.Node[]> {
  const own = new Map<string, ts.Node[]>();
  for (const s of tree.statements) for (const name of namesOf(s)) own.set(name, [...(own.get(name) ?? []), s]);
  return own;
}

function importsOf({ path, tree }: SourceFile): Map<string, string> {
  const names = new Map<string, string>();
  for (const s of tree.statements) {
    if (!ts.isImportDeclaration(s)) continue;
    const from = targetOf(path, s.moduleSpecifier);
    if (from === null) continue;
    const bound = s.importClause?.namedBindings;
    if (bound === undefined) names.set(` ${names.size}`, from);
    else if (ts.isNamedImports(bound)) {
      for (const e of bound.elements) names.set(e.name.text, `${from} ${(e.propertyName ?? e.name).text}`);
    } else throw new Error(`${path}: an import of everything hides what is used`);
  }
  return names;
}

function reExportsOf({ path, tree }: SourceFile): [string, string][] {
  return tree.statements.filter(ts.isExportDeclaration).flatMap((s) => {
    const from = s.moduleSpecifier && targetOf(path, s.moduleSpecifier);
    if (!from || !s.exportClause || !ts.isNamedExports(s.exportClause)) return [];
    return s.exportClause.elements.map((e): [string, string] => [
      e.name.text,
      `${from} ${(e.propertyName ?? e.name).text}`,
    ]);
  });
}

function targetOf(path: string, specifier: ts.Expression): string | null {
  if (!ts.isStringLiteral(specifier) || !specifier.text.startsWith('.')) return null;
  return relative(ROOT, resolve(ROOT, dirname(path), specifier.text)).replaceAll('\\', '/');
}
