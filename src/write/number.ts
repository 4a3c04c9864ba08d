/** The one place where numbers of a program are spelt: no exponent, no `-0`, no locale, trailing zeros dropped. */

/** `spell(12.5, 4)` is `12.5`, `spell(3, 4)` is `3`, `spell(-0.00001, 4)` is `0`. Throws on what is not finite: a bug upstream. */
export function spell(value: number, decimals: number): string {
  if (!Number.isFinite(value) || Math.abs(value) >= 1e9) throw new RangeError(`not a number for a program: ${value}`);
  const text = value.toFixed(decimals);
  const trimmed = text.includes('.') ? text.replace(/\.?0+$/, '') : text;
  return trimmed === '-0' ? '0' : trimmed;
}
