/**
 * JSON with comments to a value that remembers where each piece stood, so that every later complaint has a line and a
 * column. Trailing commas are allowed; a key given twice is not, because one of the two would be lost without a word.
 */
import {
  createScanner,
  findNodeAtLocation,
  getNodeValue,
  type Node,
  type ParseError,
  parseTree,
  printParseErrorCode,
} from 'jsonc-parser';
import { bad, fault, good, type Outcome, type Place, type Problem } from '../../base/problem.ts';

export type KeyPath = readonly (string | number)[];

export interface Located {
  readonly value: unknown;
  /** Where the value of a key stands, or the nearest enclosing value when that key was left out. */
  readonly place: (path: KeyPath) => Place;
  /** Where the key itself stands. */
  readonly keyPlace: (path: KeyPath) => Place;
}

/** A job is a few kilobytes and a drawing at most a few hundred; what is larger was named by mistake. In characters. */
const LONGEST_TEXT = 5_000_000;
/** Deeper than any job by far; stops a wall of brackets before the recursive parser meets it. */
const DEEPEST = 100;
/** After the first few the rest are consequences. */
const SYNTAX_ERRORS_TOLD = 5;

/** Refuses what is not text or far too long; the first thing done with any file. */
export function acceptText(text: string, file: string): Outcome<string> {
  if (text.length > LONGEST_TEXT) {
    const megabytes = (text.length / 1e6).toFixed(1);
    return bad(
      fault({
        code: 'file-too-large',
        at: { file },
        found: `the file has ${megabytes} million characters`,
        wanted: 'at most 5 million',
        remedy: 'name the right file, or thin the drawing out',
      }),
    );
  }
  const plain = text.charCodeAt(0) === 0xfeff ? ` ${text.slice(1)}` : text;
  // Control characters (but blanks and line ends), or the mark that decoding leaves for bytes that are not UTF-8.
  const strange = plain.search(/[^\P{Cc}\t\n\r\v\f]|\ufffd/u);
  if (strange >= 0) {
    const code = plain.charCodeAt(strange).toString(16).toUpperCase().padStart(4, '0');
    const place = { file, ...lineAndColumn(plain, strange) };
    return bad(
      fault({
        code: 'file-not-text',
        at: place,
        found: `the file holds bytes that are not text (U+${code})`,
        wanted: 'a text file in UTF-8',
        remedy: 'name the right file, or save it again as plain text',
      }),
    );
  }
  return good(plain);
}

export function readJsonc(raw: string, file: string): Outcome<Located> {
  const accepted = acceptText(raw, file);
  if (!accepted.ok) return accepted;
  const text = accepted.value;
  if (text.trim() === '')
    return bad(
      fault({
        code: 'job-empty',
        at: { file },
        found: 'the file is empty',
        wanted: 'a job in JSON',
        remedy: 'run `tabwright start` for one to begin with',
      }),
    );
  const deep = tooDeep(text);
  if (deep !== undefined) {
    const place = { file, ...lineAndColumn(text, deep) };
    return bad(
      fault({
        code: 'json-syntax',
        at: place,
        found: `brackets are nested over ${DEEPEST} deep`,
        wanted: 'a job file',
        remedy: 'name the right file',
      }),
    );
  }
  const errors: ParseError[] = [];
  const root = parseTree(text, errors, { allowTrailingComma: true, disallowComments: false, allowEmptyContent: false });
  if (errors.length > 0 || root === undefined) return bad(...syntaxProblems(text, file, errors));
  const doubled = doubledKeys(root, text, file);
  if (doubled.length > 0) return bad(...doubled);
  return good(located(root, text, file));
}

function located(root: Node, text: string, file: string): Located {
  const spot = (node: Node, path: KeyPath): Place => ({
    file,
    ...lineAndColumn(text, node.offset),
    ...(path.length > 0 ? { path: spellPath(path) } : {}),
  });
  return {
    value: getNodeValue(root),
    place: (path) => spot(nearestNode(root, path), path),
    keyPlace: (path) => {
      const node = findNodeAtLocation(root, [...path]);
      return spot(node?.parent?.type === 'property' ? node.parent : nearestNode(root, path), path);
    },
  };
}

function nearestNode(root: Node, path: KeyPath): Node {
  for (let n = path.length; n > 0; n--) {
    const node = findNodeAtLocation(root, path.slice(0, n));
    if (node !== undefined) return node;
  }
  return root;
}

/** `part.holes[2].ream` */
export function spellPath(path: KeyPath): string {
  return path.reduce<string>((t, p) => (typeof p === 'number' ? `${t}[${p}]` : t === '' ? p : `${t}.${p}`), '');
}

/** Counted from 1. */
function lineAndColumn(text: string, offset: number): { line: number; column: number } {
  let line = 1;
  let start = 0;
  for (;;) {
    const end = text.indexOf('\n', start);
    if (end < 0 || end >= offset) return { line, column: offset - start + 1 };
    line++;
    start = end + 1;
  }
}

function tooDeep(text: string): number | undefined {
  const scanner = createScanner(text, true);
  let depth = 0;
  for (;;) {
    const start = scanner.getPosition();
    const kind: number = scanner.scan();
    // Token kinds of jsonc-parser (a const enum, so not importable one file at a time): 1 {, 2 }, 3 [, 4 ], 17 end.
    if (kind === 17) return undefined;
    if (kind === 1 || kind === 3) depth++;
    if (kind === 2 || kind === 4) depth--;
    if (depth > DEEPEST) return start;
  }
}

function syntaxProblems(text: string, file: string, errors: readonly ParseError[]): Problem[] {
  if (errors.length === 0)
    return [
      fault({
        code: 'json-syntax',
        at: { file },
        found: 'no value was found',
        wanted: 'a job in JSON',
        remedy: 'name the right file',
      }),
    ];
  return errors.slice(0, SYNTAX_ERRORS_TOLD).map((e) => {
    const place = { file, ...lineAndColumn(text, e.offset) };
    const word = text.slice(e.offset, e.offset + Math.max(1, Math.min(e.length, 20)));
    if (/^[+-]?(NaN|Infinity|inf)/i.test(text.slice(e.offset, e.offset + 10))) {
      return fault({
        code: 'json-number',
        at: place,
        found: `\`${word}\` is not a number in JSON`,
        wanted: 'digits, such as 2.5',
        remedy: 'write the number, or leave the key out',
      });
    }
    const comma = decimalComma(text, e.offset);
    if (comma !== undefined) {
      return fault({
        code: 'json-number',
        at: { file, ...lineAndColumn(text, comma.offset) },
        found: `\`${comma.found}\` is two entries: a comma parts entries`,
        wanted: 'a decimal point',
        remedy: `write ${comma.meant}`,
      });
    }
    const kind = printParseErrorCode(e.error);
    const [wanted, remedy] = SYNTAX_WORDS[kind] ?? ['JSON', 'look just before this place'];
    const found =
      e.offset >= text.trimEnd().length
        ? 'the file ends too soon'
        : `\`${word.replace(/\s+/g, ' ')}\` cannot stand here`;
    return fault({ code: 'json-syntax', at: place, found, wanted, remedy });
  });
}

/** `"radius": 6,5` where a key should follow the comma: what stands there, and the number that was meant. */
function decimalComma(text: string, offset: number): { found: string; meant: string; offset: number } | undefined {
  const before = /:\s*([+-]?\d+),$/.exec(text.slice(Math.max(0, offset - LONGEST_NUMERAL), offset))?.[1];
  const after = /^\d+(?=\s*[,}\r\n]|\s*\/[/*])/.exec(text.slice(offset, offset + LONGEST_NUMERAL))?.[0];
  if (before === undefined || after === undefined) return undefined;
  const offsetOfNumber = offset - 1 - before.length;
  return { found: `${before},${after}`, meant: `${before}.${after}`, offset: offsetOfNumber };
}

/** Letters looked at on either side of a comma: more than any length needs. */
const LONGEST_NUMERAL = 40;

const SYNTAX_WORDS: Readonly<Record<string, readonly [string, string]>> = {
  InvalidSymbol: ['a number, text in double quotes, true, false, null, [ or {', 'put text in double quotes'],
  InvalidNumberFormat: ['a number with a decimal point', 'write it as 0.5'],
  PropertyNameExpected: ['a key in double quotes', 'put the key in double quotes'],
  ValueExpected: ['a value', 'give the key a value, or take the comma away'],
  ColonExpected: ['a colon after the key', 'put a colon between key and value'],
  CommaExpected: ['a comma', 'put a comma after the entry before'],
  CloseBraceExpected: ['a closing }', 'close the object that is open here'],
  CloseBracketExpected: ['a closing ]', 'close the list that is open here'],
  EndOfFileExpected: ['the end of the file', 'take away what follows the last }'],
  UnexpectedEndOfComment: ['the end of a comment', 'close the comment with */'],
  UnexpectedEndOfString: ['a closing double quote', 'close the text on the same line'],
  InvalidEscapeCharacter: ['an escape such as \\\\ or \\n', 'write a backslash twice'],
};

function doubledKeys(root: Node, text: string, file: string): Problem[] {
  const problems: Problem[] = [];
  const open: Node[] = [root];
  for (let node = open.pop(); node !== undefined; node = open.pop()) {
    const seen = new Set<string>();
    for (const child of node.children ?? []) {
      if (child.type !== 'property') {
        open.push(child);
        continue;
      }
      const [key, value] = child.children ?? [];
      const name = String(key?.value);
      const place = { file, ...lineAndColumn(text, child.offset), path: name };
      if (seen.has(name))
        problems.push(
          fault({
            code: 'key-twice',
            at: place,
            found: `\`${name}\` is given twice`,
            wanted: 'each key once',
            remedy: 'take one of them away',
          }),
        );
      // Would set the prototype instead of a key, and so pass the schema unseen.
      if (name === '__proto__')
        problems.push(
          fault({
            code: 'unknown-key',
            at: place,
            found: '`__proto__` is no key of a job',
            wanted: 'keys of a job file',
            remedy: 'take it away',
          }),
        );
      seen.add(name);
      if (value !== undefined) open.push(value);
      if (problems.length >= SYNTAX_ERRORS_TOLD) return problems;
    }
  }
  return problems;
}
