/** Comments a control can read: printable ASCII, no brackets inside, at most 80 characters a line. */

const REPLACE: Readonly<Record<string, string>> = {
  '(': '[',
  ')': ']',
  Ø: 'dia ',
  '×': 'x',
  '–': '-',
  '—': '-',
  // The micro sign itself is decomposed into the Greek letter: lost, a micrometre would read as a metre.
  '\u03bc': 'u',
  '°': ' deg',
  '±': '+/-',
  '\n': ' ',
  '\r': ' ',
  '\t': ' ',
};

export const LONGEST_LINE = 80;

export function commentText(text: string): string {
  let out = '';
  for (const ch of text.normalize('NFKD')) {
    const swapped = REPLACE[ch] ?? ch;
    for (const c of swapped) if (c >= ' ' && c <= '~') out += c;
  }
  return out.trim();
}

/** One comment a line, broken between words. `prefix` (such as `MSG,`) is repeated on every line. */
export function commentLines(text: string, prefix = ''): string[] {
  const room = LONGEST_LINE - 2 - prefix.length - (prefix === '' ? 0 : 1);
  const lines: string[] = [];
  let line = '';
  for (const word of commentText(text).split(/\s+/)) {
    for (const piece of word.length > room ? (word.match(new RegExp(`.{1,${room}}`, 'g')) ?? []) : [word]) {
      if (line !== '' && line.length + 1 + piece.length > room) {
        lines.push(line);
        line = piece;
      } else line = line === '' ? piece : `${line} ${piece}`;
    }
  }
  if (line !== '') lines.push(line);
  return lines.map((l) => (prefix === '' ? `(${l})` : `(${prefix} ${l})`));
}
