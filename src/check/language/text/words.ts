/** The strict line reader (report, 3.3 and appendix E): characters to words, settings and comments. */
import { G, M, N, type ProgramBlock } from './block.ts';
import { type Cursor, capital, fail, OUT_OF_RANGE, peek, show } from './cursor.ts';
import { readIndex, readValue, WHOLE } from './expression.ts';

/** Letters that begin a word: all but E, O, U, V, W (report, table 1); N only as line number. */
const ALLOWED = [...'ABCDFGHIJKLMPQRSTXYZ'].reduce((bits, letter) => bits | (1 << (letter.charCodeAt(0) - 65)), 0);

/** No length, speed or time of a program comes near; keeps every later sum finite. */
const MOST = 1e9;

/** Reads the line between `start` and `end` into `b`. False after a fault, which the cursor then holds. */
export function readLine(c: Cursor, b: ProgramBlock, text: string, start: number, end: number): boolean {
  reset(c, b, text, start, end);
  let code = peek(c);
  if (code === 47 && c.pos === start) {
    b.deletable = true;
    c.pos++;
    code = peek(c);
  }
  if (code === 78 || code === 110) {
    readLineNumber(c, b);
    code = peek(c);
  }
  while (code !== -1 && c.bad === 0) {
    segment(c, b, code);
    code = peek(c);
  }
  return c.bad === 0;
}

function reset(c: Cursor, b: ProgramBlock, text: string, start: number, end: number): void {
  c.text = text;
  c.start = start;
  c.pos = start;
  c.end = end;
  c.bad = 0;
  c.depth = 0;
  c.usedParameter = false;
  c.stored = 0;
  b.has = 0;
  b.gCount = 0;
  b.mCount = 0;
  b.deletable = false;
  b.lineNumber = -1;
  if (b.settings.length > 0) b.settings.length = 0;
  if (b.comments.length > 0) b.comments.length = 0;
}

function segment(c: Cursor, b: ProgramBlock, code: number): void {
  const letter = capital(code);
  if (letter !== 0) word(c, b, letter - 65);
  else if (code === 40) comment(c, b);
  else if (code === 35) setting(c, b);
  else if (code === 41) fail(c, 17, c.pos);
  else if (code === 47) fail(c, 9, c.pos);
  else fail(c, 5, c.pos, show(code));
}

function word(c: Cursor, b: ProgramBlock, letter: number): void {
  const at = c.pos;
  if (letter === N) return void fail(c, 6, at);
  if ((ALLOWED & (1 << letter)) === 0) return void fail(c, 5, at, String.fromCharCode(letter + 65));
  c.pos++;
  const value = readValue(c, at);
  if (c.bad !== 0) return;
  if (!(Math.abs(value) <= MOST)) return tooLarge(c, letter, value, at);
  if (letter === G) return gWord(c, b, value, at);
  if (letter === M) return mWord(c, b, value, at);
  const bit = 1 << letter;
  if ((b.has & bit) !== 0) return void fail(c, 18, at, `${String.fromCharCode(letter + 65)} again`);
  b.has |= bit;
  b.value[letter] = value;
  b.column[letter] = at - c.start + 1;
}

/** Infinite, not a number (hung on an unknown position), or absurd. */
function tooLarge(c: Cursor, letter: number, value: number, at: number): void {
  const found = Number.isNaN(value) ? 'a value that cannot be known' : `${value}`;
  fail(c, OUT_OF_RANGE, at, `${String.fromCharCode(letter + 65)} has ${found}`);
}

function gWord(c: Cursor, b: ProgramBlock, value: number, at: number): void {
  const tenfold = Math.round(value * 10);
  if (!(Math.abs(value * 10 - tenfold) <= WHOLE)) return void fail(c, 24, at, `G${value}`);
  b.g[b.gCount] = Math.max(-1, Math.min(tenfold, 10000));
  b.gColumn[b.gCount++] = at - c.start + 1;
}

function mWord(c: Cursor, b: ProgramBlock, value: number, at: number): void {
  const code = Math.round(value);
  if (!(Math.abs(value - code) <= WHOLE)) return void fail(c, 25, at, `M${value}`);
  b.m[b.mCount] = Math.max(-1, Math.min(code, 10000));
  b.mColumn[b.mCount++] = at - c.start + 1;
}

/** `N` under the cursor: one to five digits, nothing else. */
function readLineNumber(c: Cursor, b: ProgramBlock): void {
  const at = c.pos;
  c.pos++;
  let digits = 0;
  let value = 0;
  let code = peek(c);
  for (; code >= 48 && code <= 57; code = peek(c)) {
    value = value * 10 + (code - 48);
    digits++;
    c.pos++;
  }
  if (digits === 0 && (code === -1 || (capital(code) !== 0 && c.pos > at))) return void fail(c, 10, at);
  if (digits === 0 || code === 46) return void fail(c, 7, at);
  if (digits > 5) return void fail(c, 8, at);
  b.lineNumber = value;
}

function comment(c: Cursor, b: ProgramBlock): void {
  const from = c.pos;
  for (let i = from + 1; i < c.end; i++) {
    const code = c.text.charCodeAt(i);
    if (code === 41) {
      b.comments.push({ text: c.text.slice(from + 1, i), column: from - c.start + 1 });
      c.pos = i + 1;
      return;
    }
    if (code === 40) return void fail(c, 15, i);
    if ((code < 32 && code !== 9) || code > 126) return void fail(c, 5, i, `${show(code)} in a comment`);
  }
  fail(c, 16, from);
}

function setting(c: Cursor, b: ProgramBlock): void {
  const index = readIndex(c);
  if (c.bad !== 0) return;
  if (peek(c) !== 61) return void fail(c, 27, c.pos);
  const at = c.pos;
  c.pos++;
  const value = readValue(c, at);
  if (c.bad === 0) b.settings.push({ index, value });
}
