/**
 * Every problem code of the program, out of its source: the first argument of what makes a problem, or a `code` of one.
 * The README lists them; `npm run golden` writes that list and a test compares it.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import ts from 'typescript';

/** Names of functions and methods whose first argument is a code. */
const MAKERS = new Set(['fault', 'caution', 'note', 'defect', 'fail', 'clash', 'tell', 'unusable']);
const MAYBE = new RegExp(`\\b(${[...MAKERS].join('|')}|code)\\b[(:]`);
const CODE = /^[a-z][a-z0-9]*(-[a-z0-9]+)*$/;

const GROUPS = [
  ['Command line and posts', ['src/cli', 'src/write', 'src/job.ts', 'src/session']],
  ['Job file and drawings', ['src/part']],
  ['Plan, holding and paths', ['src/plan', 'src/hold', 'src/paths', 'src/course', 'src/mechanics', 'src/geometry']],
  ['Check of programs', ['src/check']],
];

/** Sorted codes for each group, `[title, codes][]`. */
export function codesOf(root) {
  const files = readdirSync(join(root, 'src'), { recursive: true, encoding: 'utf8' })
    .filter((f) => f.endsWith('.ts'))
    .map((f) => `src/${f.replaceAll('\\', '/')}`);
  return GROUPS.map(([title, places]) => {
    const found = new Set();
    for (const file of files) {
      if (!places.some((p) => file === p || file.startsWith(`${p}/`))) continue;
      const text = readFileSync(join(root, file), 'utf8');
      // Most files make no problem: they are not worth parsing.
      if (!MAYBE.test(text)) continue;
      collect(ts.createSourceFile(file, text, ts.ScriptTarget.Latest), found);
    }
    return [title, [...found].sort()];
  });
}

/** The list as it stands in the README between its two marks. */
export function codeList(root) {
  const groups = codesOf(root).map(([title, codes]) => `*${title}:* ${codes.map((c) => `\`${c}\``).join(' ')}`);
  return `${groups.join('\n\n')}\n`;
}

function collect(node, found) {
  if (ts.isCallExpression(node) && MAKERS.has(nameOf(node.expression))) literals(node.arguments[0], found);
  if (ts.isPropertyAssignment(node) && ts.isIdentifier(node.name) && node.name.text === 'code')
    literals(node.initializer, found);
  ts.forEachChild(node, (child) => collect(child, found));
}

function nameOf(callee) {
  if (ts.isIdentifier(callee)) return callee.text;
  return ts.isPropertyAccessExpression(callee) ? callee.name.text : '';
}

function literals(node, found) {
  if (node === undefined) return;
  if (ts.isAsExpression(node)) literals(node.expression, found);
  if (ts.isStringLiteral(node) && CODE.test(node.text)) found.add(node.text);
  if (ts.isConditionalExpression(node)) {
    literals(node.whenTrue, found);
    literals(node.whenFalse, found);
  }
}
