/** Values of the language: numbers, [expressions], #parameters and functions (report, 3.3.2 and appendix E). */
import { arccosine, arcsine, arctangent2, cosine, sine, tangent } from '../../../base/angles.ts';
import { exponential, logarithm, power } from '../../../base/powers.ts';
import { toDeg, toRad } from '../../../base/units.ts';
import { type Cursor, capital, fail, LAST_PARAMETER, peek, show } from './cursor.ts';
import { readNumber } from './number.ts';

/** How far an index or a code may lie from a whole number (report, 3.3.2.1). */
export const WHOLE = 0.0001;

/** Brackets and # signs inside one another. The report sets no bound; a line of 256 characters needs no more. */
const MAX_DEPTH = 100;

/** Reads one value; NaN after a fault (see `Cursor.bad`). `letterAt` is where a missing value is reported. */
export function readValue(c: Cursor, letterAt: number): number {
  const code = peek(c);
  if ((code >= 48 && code <= 57) || code === 45 || code === 46 || code === 43) return readNumber(c);
  if (code === 91) return readBracket(c);
  if (code === 35) return readParameter(c);
  if (capital(code) !== 0) return readFunction(c, letterAt);
  if (code === -1 || code === 40 || code === 41 || code === 61 || code === 93 || code === 47)
    return fail(c, 10, letterAt);
  return fail(c, 5, c.pos, show(code));
}

/** The index after a `#` under the cursor; NaN after a fault. */
export function readIndex(c: Cursor): number {
  const at = c.pos;
  c.pos++;
  if (deeper(c, at)) return Number.NaN;
  const value = readValue(c, at);
  c.depth--;
  if (c.bad !== 0) return Number.NaN;
  const index = Math.round(value);
  if (!(Math.abs(value - index) <= WHOLE) || index < 1 || index > LAST_PARAMETER) return fail(c, 26, at, `#${value}`);
  return index;
}

function readParameter(c: Cursor): number {
  const index = readIndex(c);
  c.usedParameter = true;
  if (c.bad === 0 && c.stored === 0 && c.set[index] === 0) c.stored = index;
  return c.bad === 0 ? c.parameters[index]! : Number.NaN;
}

function deeper(c: Cursor, at: number): boolean {
  if (++c.depth <= MAX_DEPTH) return false;
  fail(c, 28, at, `more than ${MAX_DEPTH} brackets or # inside one another`);
  return true;
}

/** Strength of the binary operators: 3 power, 2 product, 1 the rest (report, 3.3.2.3). */
type Operator = '**' | '*' | '/' | 'MOD' | '+' | '-' | 'OR' | 'XOR' | 'AND';
const STRENGTH: Readonly<Record<Operator, number>> = {
  '**': 3,
  '*': 2,
  '/': 2,
  MOD: 2,
  '+': 1,
  '-': 1,
  OR: 1,
  XOR: 1,
  AND: 1,
};

/** `[` under the cursor. Operators of equal strength go from left to right. */
function readBracket(c: Cursor): number {
  const at = c.pos;
  c.pos++;
  if (deeper(c, at)) return Number.NaN;
  const values: number[] = [readValue(c, at)];
  const waiting: { operator: Operator; at: number }[] = [];
  while (c.bad === 0) {
    const where = c.pos;
    const operator = readOperator(c, at);
    const strength = operator === ']' || operator === null ? 0 : STRENGTH[operator];
    while (c.bad === 0 && waiting.length > 0 && STRENGTH[waiting.at(-1)!.operator] >= strength)
      reduce(c, values, waiting.pop()!);
    if (operator === ']' || operator === null) break;
    waiting.push({ operator, at: where });
    values.push(readValue(c, where));
  }
  c.depth--;
  return c.bad === 0 ? values[0]! : Number.NaN;
}

function reduce(c: Cursor, values: number[], step: { operator: Operator; at: number }): void {
  const right = values.pop()!;
  const left = values.pop()!;
  values.push(binary(c, step.operator, left, right, step.at));
}

function readOperator(c: Cursor, opened: number): Operator | ']' | null {
  const code = peek(c);
  const at = c.pos;
  if (code === -1 || code === 40 || code === 41) {
    fail(c, 28, opened);
    return null;
  }
  const word = capital(code) !== 0 ? letters(c) : symbol(c, code);
  if (word === ']' || Object.hasOwn(STRENGTH, word)) return word as Operator | ']';
  for (const name of ['MOD', 'AND', 'XOR', 'OR'] as const) {
    if (word.startsWith(name)) {
      c.pos = at;
      skipLetters(c, name.length);
      return name;
    }
  }
  fail(c, 29, at, word);
  return null;
}

function symbol(c: Cursor, code: number): string {
  c.pos++;
  if (code === 42 && peek(c) === 42) {
    c.pos++;
    return '**';
  }
  return show(code);
}

/** The run of letters at the cursor in capitals, spaces dropped; the cursor moves behind it. */
function letters(c: Cursor): string {
  let word = '';
  for (let code = capital(peek(c)); code !== 0; code = capital(peek(c))) {
    word += String.fromCharCode(code);
    c.pos++;
  }
  return word;
}

function skipLetters(c: Cursor, count: number): void {
  for (let i = 0; i < count; i++) {
    peek(c);
    c.pos++;
  }
}

function binary(c: Cursor, operator: Operator, a: number, b: number, at: number): number {
  switch (operator) {
    case '**':
      return a < 0 && b !== Math.floor(b) ? fail(c, 33, at, `${a} ** ${b}`) : power(a, b);
    case '*':
      return a * b;
    case '/':
      return b === 0 ? fail(c, 32, at) : a / b;
    case 'MOD':
      return b === 0 ? fail(c, 32, at) : modulo(a, b);
    case '+':
      return a + b;
    case '-':
      return a - b;
    case 'OR':
      return a !== 0 || b !== 0 ? 1 : 0;
    case 'XOR':
      return (a !== 0) !== (b !== 0) ? 1 : 0;
    case 'AND':
      return a !== 0 && b !== 0 ? 1 : 0;
  }
}

/** Never negative (reference interpreter). */
function modulo(a: number, b: number): number {
  const rest = a % b;
  return rest < 0 ? rest + Math.abs(b) : rest;
}

const FUNCTIONS = [
  'ABS',
  'ACOS',
  'ASIN',
  'ATAN',
  'COS',
  'EXP',
  'FIX',
  'FUP',
  'LN',
  'ROUND',
  'SIN',
  'SQRT',
  'TAN',
] as const;
type FunctionName = (typeof FUNCTIONS)[number];

function readFunction(c: Cursor, letterAt: number): number {
  const at = c.pos;
  const word = letters(c);
  const name = FUNCTIONS.find((f) => word.startsWith(f));
  if (name === undefined) {
    const meant = word.length >= 3 || (word.length === 2 && peek(c) === 91);
    return meant ? fail(c, 29, at, word) : fail(c, 10, letterAt);
  }
  if (word !== name || peek(c) !== 91) return fail(c, 30, at, name);
  const argument = readBracket(c);
  if (c.bad !== 0) return Number.NaN;
  return name === 'ATAN' ? arcTangent(c, at, argument) : unary(c, name, argument, at);
}

function arcTangent(c: Cursor, at: number, y: number): number {
  if (peek(c) !== 47) return fail(c, 31, at);
  c.pos++;
  if (peek(c) !== 91) return fail(c, 31, at);
  const x = readBracket(c);
  return c.bad === 0 ? toDeg(arctangent2(y, x)) : Number.NaN;
}

function unary(c: Cursor, name: Exclude<FunctionName, 'ATAN'>, v: number, at: number): number {
  switch (name) {
    case 'ABS':
      return Math.abs(v);
    case 'ACOS':
      return Math.abs(v) > 1 ? fail(c, 36, at, `ACOS[${v}]`) : toDeg(arccosine(v));
    case 'ASIN':
      return Math.abs(v) > 1 ? fail(c, 36, at, `ASIN[${v}]`) : toDeg(arcsine(v));
    case 'COS':
      return cosine(toRad(v));
    case 'EXP':
      return exponential(v);
    case 'FIX':
      return Math.floor(v);
    case 'FUP':
      return Math.ceil(v);
    case 'LN':
      return v <= 0 ? fail(c, 35, at, `LN[${v}]`) : logarithm(v);
    case 'ROUND':
      return v < 0 ? -Math.floor(0.5 - v) : Math.floor(v + 0.5);
    case 'SIN':
      return sine(toRad(v));
    case 'SQRT':
      return v < 0 ? fail(c, 34, at, `SQRT[${v}]`) : Math.sqrt(v);
    case 'TAN':
      return tangent(toRad(v));
  }
}
