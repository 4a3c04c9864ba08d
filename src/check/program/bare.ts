/** A line of a program without comments and blanks, for rules that look at its words and not at its moves. */

/** The language's own limit on a line; what is longer has been refused, and a pattern must not run over a megabyte of brackets. */
const LONGEST = 256;

export function bareLine(text: string, start: number, end: number): string {
  return text
    .slice(start, Math.min(end, start + LONGEST))
    .replace(/\([^)]*\)/g, '')
    .replace(/[ \t]/g, '')
    .toUpperCase();
}
