/**
 * A person's comment that only begins as a fact of the head does, such as `Part 1 of the tower clock`: it has no figure but the first and at least
 * two words that no fact has, nor one misspelt. What can be taken for a fact, by a machine or by a person, is none of these.
 */

/** Words of all facts and events. */
const VOCABULARY = [
  ...['zero', 'stock', 'part', 'at', 'turn', 'mirror', 'yes', 'cutter', 'hold', 'tab', 'direction', 'width'],
  ...[
    'height',
    'footprint',
    'tabs',
    'floor',
    'screws',
    'glue',
    'stub',
    'jaws',
    'edge',
    'hole',
    'holes',
    'boss',
    'fitted',
  ],
  ...[
    'end',
    'mill',
    'slot',
    'drill',
    'ball',
    'nosed',
    'spot',
    'centre',
    'reamer',
    'countersink',
    'counterbore',
    'chamfer',
  ],
];
/** What is said of touching off and of standing a part up is read by people, and has no form. */
const STARTS = /^(STOCK|PART|CUTTER|HOLD|TAB|SCREWS) /i;
/** Two slips make a word this short out of any other. */
const SHORT = 3;
const SLIPS = 2;
const FOREIGN = 2;

export function isProse(fact: string): boolean {
  if (!STARTS.test(fact)) return false;
  const rest = fact.replace(/^\w+ (X|\d+)?/i, '');
  if (/\d/.test(rest)) return false;
  const words = rest.toLowerCase().match(/[a-z]+/g) ?? [];
  return words.filter(isForeign).length >= FOREIGN;
}

function isForeign(word: string): boolean {
  if (/^[dxyz]$/.test(word)) return false;
  const most = word.length <= SHORT ? 1 : SLIPS;
  return !VOCABULARY.some((v) => v === word || (v.length >= SHORT && slips(word, v) <= most));
}

/** Letters to put in, leave out or exchange (Levenshtein). */
function slips(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++)
      next.push(Math.min(row[j]! + 1, next[j - 1]! + 1, row[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1)));
    row = next;
  }
  return row[b.length]!;
}
