/** Where the reader stands in a line, and the first thing wrong with it. A failed reading yields NaN and stops the line. */
export interface Cursor {
  text: string;
  start: number;
  pos: number;
  end: number;
  readonly parameters: Float64Array;
  /** Condition number of the first fault of the line, 0 while there is none. */
  bad: number;
  badAt: number;
  badFound: string;
  /** Whether a value of this line hangs on a parameter. */
  usedParameter: boolean;
  depth: number;
  /** First parameter whose value this line takes from the control and not from the program; 0: none. */
  stored: number;
  /** By index: 1 once the program itself has set it. */
  readonly set: Uint8Array;
}

/** Highest index of the parameter array (report, 3.2.1). */
export const LAST_PARAMETER = 5399;

/** Not one of the report's conditions: a word whose value is no usable number. Told as `value-out-of-range`. */
export const OUT_OF_RANGE = 1000;

export function cursor(parameters: Float64Array): Cursor {
  const none = { bad: 0, badAt: 0, badFound: '', usedParameter: false, depth: 0, stored: 0 };
  return { text: '', start: 0, pos: 0, end: 0, parameters, set: new Uint8Array(LAST_PARAMETER + 1), ...none };
}

export function fail(c: Cursor, condition: number, at: number, found = ''): number {
  if (c.bad === 0) {
    c.bad = condition;
    c.badAt = at;
    c.badFound = found;
  }
  return Number.NaN;
}

/** Code of the next character that is not a space or tab, -1 at the end; stays on it. */
export function peek(c: Cursor): number {
  while (c.pos < c.end) {
    const code = c.text.charCodeAt(c.pos);
    if (code !== 32 && code !== 9) return code;
    c.pos++;
  }
  return -1;
}

/** The letter as a capital code, or 0 for what is no letter. */
export function capital(code: number): number {
  if (code >= 65 && code <= 90) return code;
  return code >= 97 && code <= 122 ? code - 32 : 0;
}

/** A character as it can be shown in a message. */
export function show(code: number): string {
  if (code < 0) return 'the end of the line';
  return code > 32 && code < 127 ? String.fromCharCode(code) : `U+${code.toString(16).toUpperCase().padStart(4, '0')}`;
}
