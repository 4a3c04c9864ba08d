/** Numbers of the language (report, 3.3.2.1): sign, digits, one point, no exponent; spaces and tabs may stand anywhere. */
import { tenToThe } from '../../../base/powers.ts';
import { type Cursor, fail, peek, show } from './cursor.ts';

/** Powers of ten that a double holds exactly, so that integer / power is rounded once and thus correctly. */
const TENS: readonly number[] = Array.from({ length: 23 }, (_, i) => tenToThe(i));
const EXACT_DIGITS = 15;

const PLUS = 43;
const MINUS = 45;
const POINT = 46;
const LETTER_E = 69;

/** Reads at the cursor; the caller has seen a sign, a digit or a point there. NaN after a fault. */
export function readNumber(c: Cursor): number {
  const text = c.text;
  const end = c.end;
  const from = c.pos;
  let pos = from;
  let mantissa = 0;
  let digits = 0;
  let decimals = -1;
  let negative = false;
  let code = text.charCodeAt(pos);
  if (code === MINUS || code === PLUS) {
    negative = code === MINUS;
    pos++;
  }
  for (; pos < end; pos++) {
    code = text.charCodeAt(pos);
    if (code >= 48 && code <= 57) {
      mantissa = mantissa * 10 + (code - 48);
      digits++;
      if (decimals >= 0) decimals++;
    } else if (code === POINT) {
      if (decimals >= 0) return fail(c, 12, pos);
      decimals = 0;
    } else if (code !== 32 && code !== 9) break;
  }
  c.pos = pos;
  if (digits === 0) return noDigit(c, from, decimals >= 0);
  if (pos < end && (code | 32) === (LETTER_E | 32)) return fail(c, 13, pos);
  if (digits > EXACT_DIGITS) return Number(text.slice(from, pos).replace(/[ \t]/g, ''));
  const size = decimals > 0 ? mantissa / TENS[decimals]! : mantissa;
  return negative ? -size : size;
}

/** A sign stands before something else, or a point stands alone. */
function noDigit(c: Cursor, from: number, point: boolean): number {
  const next = peek(c);
  const letters = c.text.slice(c.pos, c.pos + 12).replace(/[ \t]/g, '');
  const value = next === 91 || next === 35 || FUNCTION_START.test(letters);
  if (!point && value) return fail(c, 14, from);
  return fail(c, 11, from, `found ${show(next)}`);
}

const FUNCTION_START = /^(ABS|ACOS|ASIN|ATAN|COS|EXP|FIX|FUP|LN|ROUND|SIN|SQRT|TAN)/i;
