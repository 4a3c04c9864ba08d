/** Spelling of numbers and near words, shared by every text the program writes for people. */

/** Fixed decimals without `-0`, exponent or locale: `fixed(-0.00001, 3)` is `0.000`. */
export function fixed(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  return /^-0(\.0*)?$/.test(text) ? text.slice(1) : text;
}

/** As `fixed`, with trailing zeros and a bare point dropped: `short(2.50, 3)` is `2.5`. */
export function short(value: number, decimals = 3): string {
  const text = fixed(value, decimals);
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
}

/** Number of single-letter edits (insert, delete, replace, swap neighbours) from a to b: Damerau-Levenshtein, restricted. */
export function editDistance(a: string, b: string): number {
  const rows: number[][] = Array.from({ length: a.length + 1 }, (_, i) => [i]);
  for (let j = 0; j <= b.length; j++) rows[0]![j] = j;
  for (let i = 1; i <= a.length; i++) {
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1] ? 0 : 1;
      let best = Math.min(rows[i - 1]![j]! + 1, rows[i]![j - 1]! + 1, rows[i - 1]![j - 1]! + same);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        best = Math.min(best, rows[i - 2]![j - 2]! + 1);
      rows[i]![j] = best;
    }
  }
  return rows[a.length]![b.length]!;
}

/** The nearest of `known` to `word`, if near enough to be a slip of the fingers; case is ignored. */
export function nearest(word: string, known: readonly string[]): string | undefined {
  let best: string | undefined;
  let bestCost = Math.max(1, Math.floor(word.length / 3)) + 1;
  for (const k of known) {
    const cost = editDistance(word.toLowerCase(), k.toLowerCase());
    if (cost < bestCost) {
      bestCost = cost;
      best = k;
    }
  }
  return best;
}

/** Job name to file name: lower case letters and digits, one hyphen between words. */
export function kebab(name: string): string {
  const text = name
    .normalize('NFKD')
    .replace(/[\u0300-\u036f]/g, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '');
  return text === '' ? 'job' : text;
}
