/** A program's text by lines, whole or as it comes from a file: LF, CR LF and lone CR all end one. */

/** A line without its end; the text around it is passed too, so that nothing is copied. False: no more is wanted. */
export type LineReader = (text: string, start: number, end: number) => boolean;

export function eachLine(text: string, read: LineReader): void {
  linesIn(text, 0, text.length, text.includes('\r'), read);
}

/** As `eachLine` of all pieces joined; of a line longer than `LONGEST_KEPT` only so much is handed out. */
export function eachLineOf(pieces: Iterable<string>, read: LineReader): void {
  let rest = '';
  for (const piece of pieces) {
    const text = rest === '' ? piece : rest + piece;
    // A CR at the very end may be the first half of a line's end.
    const back = text.length > 1 ? text.lastIndexOf('\r', text.length - 2) : -1;
    const last = Math.max(text.lastIndexOf('\n'), back);
    if (last >= 0 && !linesIn(text, 0, last + 1, text.includes('\r'), read)) return;
    rest = text.slice(last + 1);
    if (rest.length > LONGEST_KEPT) rest = rest.slice(0, LONGEST_KEPT) + (rest.endsWith('\r') ? '\r' : '');
  }
  if (rest !== '') linesIn(rest, 0, rest.length, rest.includes('\r'), read);
}

/** Characters kept of one line: far more than any language allows, so that it is refused for its length. */
const LONGEST_KEPT = 1_000_000;

/** Whether more is wanted. */
function linesIn(text: string, from: number, to: number, returns: boolean, read: LineReader): boolean {
  let start = from;
  let feed = -1;
  while (start < to) {
    // Looked for again only once passed: a file with lone CRs would otherwise be searched to its end for every line.
    if (feed < start) feed = text.indexOf('\n', start);
    if (feed < 0 || feed > to) feed = to;
    const end = returns ? carriage(text, start, feed) : feed;
    if (!read(text, start, end)) return false;
    start = end + 1;
    if (end < feed && text.charCodeAt(start) === 10) start++;
  }
  return true;
}

/** First CR of the stretch, or its end. */
function carriage(text: string, start: number, end: number): number {
  for (let i = start; i < end; i++) if (text.charCodeAt(i) === 13) return i;
  return end;
}
