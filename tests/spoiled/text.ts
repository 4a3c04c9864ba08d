/** Reading and changing the words of a program, line by line; plain numbers only, as `make` writes them. */
import type { Text } from './jobs.ts';

export interface Place {
  readonly program: number;
  /** Index of the line, from 0; its block number is one more. */
  readonly line: number;
}

export const linesOf = (t: Text): string[] => t.text.split('\n');

/** A copy of the programs with one line changed; null takes it away. */
export function withLine(programs: readonly Text[], at: Place, line: string | null): Text[] {
  return withLines(programs, at, 1, line === null ? [] : [line]);
}

/** A copy with `count` lines from a place on replaced by others. */
export function withLines(programs: readonly Text[], at: Place, count: number, by: readonly string[]): Text[] {
  return programs.map((p, i) => {
    if (i !== at.program) return p;
    const lines = linesOf(p);
    lines.splice(at.line, count, ...by);
    return { file: p.file, text: lines.join('\n') };
  });
}

export function lineAt(programs: readonly Text[], at: Place): string {
  return linesOf(programs[at.program]!)[at.line] ?? '';
}

const NUMBER = String.raw`([-+]?\d*\.?\d+|[-+]?\d+\.)`;

export function wordOf(line: string, letter: string): number | undefined {
  if (line.startsWith('(')) return undefined;
  const m = line.match(new RegExp(`${letter}${NUMBER}`));
  return m === null ? undefined : Number(m[1]);
}

/** The line with the value of a word changed, five decimals kept; without the word when the value is null. */
export function withWord(line: string, letter: string, value: number | null): string {
  if (value === null) return line.replace(new RegExp(` ?${letter}${NUMBER}`), '').trim();
  return line.replace(new RegExp(`${letter}${NUMBER}`), `${letter}${Number(value.toFixed(5))}`);
}

/** Every line of every program that matches, comments only when asked for. */
export function find(programs: readonly Text[], pattern: RegExp): Place[] {
  return programs.flatMap((p, program) =>
    linesOf(p).flatMap((text, line) => (pattern.test(text) ? [{ program, line }] : [])),
  );
}

/** Millimetres a unit of the program at a place. */
export function unitOf(programs: readonly Text[], program: number): number {
  return /\bG20\b/.test(programs[program]!.text) ? 25.4 : 1;
}
