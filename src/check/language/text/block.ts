/** One line of the program as it was read: its words, settings and comments, each with its column. Reused line by line. */
export interface ProgramBlock {
  line: number;
  /** First character `/`. */
  deletable: boolean;
  /** Bit n: letter n of the alphabet (A = 0) has a word. G and M are kept apart. */
  has: number;
  readonly value: Float64Array;
  readonly column: Int32Array;
  /** Ten times the G number, for instance 382. */
  readonly g: Int32Array;
  readonly gColumn: Int32Array;
  gCount: number;
  readonly m: Int32Array;
  readonly mColumn: Int32Array;
  mCount: number;
  lineNumber: number;
  readonly settings: { index: number; value: number }[];
  readonly comments: { text: string; column: number }[];
}

/** More words than 256 characters can hold. */
const ROOM = 130;

export function emptyBlock(): ProgramBlock {
  const words = {
    value: new Float64Array(26),
    column: new Int32Array(26),
    g: new Int32Array(ROOM),
    gColumn: new Int32Array(ROOM),
  };
  const more = { gCount: 0, m: new Int32Array(ROOM), mColumn: new Int32Array(ROOM), mCount: 0, lineNumber: -1 };
  return { line: 0, deletable: false, has: 0, ...words, ...more, settings: [], comments: [] };
}

const A = 0;
export const B = 1;
export const C = 2;
export const D = 3;
export const F = 5;
export const G = 6;
export const H = 7;
export const I = 8;
export const J = 9;
export const K = 10;
export const L = 11;
export const M = 12;
export const N = 13;
export const P = 15;
export const Q = 16;
export const R = 17;
export const S = 18;
export const T = 19;
export const X = 23;
export const Y = 24;
export const Z = 25;
export { A };

export const LINEAR = (1 << X) | (1 << Y) | (1 << Z);
export const ROTARY = (1 << A) | (1 << B) | (1 << C);
export const AXES = LINEAR | ROTARY;
export const OFFSETS = (1 << I) | (1 << J) | (1 << K);

export function given(b: ProgramBlock, letter: number): boolean {
  return (b.has & (1 << letter)) !== 0;
}

/** Column of the first of the letters in the mask, in the order of the line; 1 if none is there. */
export function firstColumn(b: ProgramBlock, mask: number): number {
  let best = 0;
  for (let i = 0; i < 26; i++) {
    if ((b.has & mask & (1 << i)) !== 0 && (best === 0 || b.column[i]! < best)) best = b.column[i]!;
  }
  return best === 0 ? 1 : best;
}

export function gColumnOf(b: ProgramBlock, code: number): number {
  for (let i = 0; i < b.gCount; i++) if (b.g[i] === code) return b.gColumn[i]!;
  return 1;
}
