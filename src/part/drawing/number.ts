/** Strict number spelling, the same for every drawing format: digits, one point, an exponent. No comma, no NaN, no tail. */
const DECIMAL = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/;
const INTEGER = /^[+-]?\d+$/;

/** The number, or what is wrong with its spelling. */
export type Reading = { readonly ok: true; readonly value: number } | { readonly ok: false; readonly found: string };

export function readDecimal(text: string): Reading {
  const trimmed = text.trim();
  if (!DECIMAL.test(trimmed)) return { ok: false, found: misspelt(trimmed) };
  const value = Number(trimmed);
  return Number.isFinite(value)
    ? { ok: true, value }
    : { ok: false, found: `${quoted(trimmed)} is too large a number` };
}

export function readInteger(text: string): Reading {
  const trimmed = text.trim();
  if (!INTEGER.test(trimmed)) return { ok: false, found: `${quoted(trimmed)} is not a whole number` };
  return { ok: true, value: Number(trimmed) };
}

function misspelt(text: string): string {
  if (text === '') return 'an empty value stands where a number belongs';
  if (/^[+-]?\d*,\d+$/.test(text)) return `${quoted(text)} has a decimal comma`;
  return `${quoted(text)} is not a number`;
}

/** Shown to a person: cut short, control characters replaced. */
export function quoted(text: string): string {
  const clean = Array.from(text.slice(0, 60), (c) => (c < ' ' || c === '\u007f' ? '\u00b7' : c)).join('');
  return `"${clean}${text.length > 60 ? '...' : ''}"`;
}
