/** Attribute values: lengths, lists of numbers, viewBox, preserveAspectRatio. Each is read whole or refused. */
import { MM_PER_INCH } from '../../../base/units.ts';
import { quoted, readDecimal } from '../number.ts';

/** User units in an inch: CSS fixes 96 px to the inch. */
export const PX_PER_INCH = 96;

export type Parsed<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly found: string };

export interface Length {
  readonly number: number;
  readonly unit: '' | 'px' | '%' | 'mm' | 'cm' | 'Q' | 'in' | 'pt' | 'pc' | 'em' | 'ex';
}

/** Millimetres in the physical units of CSS (W3C CSS Values and Units, absolute lengths; px is its visual angle unit). */
export const MM_PER_UNIT: Readonly<Partial<Record<Length['unit'], number>>> = {
  mm: 1,
  cm: 10,
  Q: 0.25,
  in: MM_PER_INCH,
  pt: MM_PER_INCH / 72,
  pc: MM_PER_INCH / 6,
};

export function parseLength(text: string): Parsed<Length> {
  const match = /^\s*([^a-zA-Z%]*(?:[eE][+-]?\d+)?)(px|%|mm|cm|Q|in|pt|pc|em|ex)?\s*$/.exec(text);
  if (match === null) return { ok: false, found: `${quoted(text)} is not a length` };
  const number = readDecimal(match[1]!);
  if (!number.ok) return { ok: false, found: number.found };
  return { ok: true, value: { number: number.value, unit: (match[2] ?? '') as Length['unit'] } };
}

/** Numbers with commas or spaces between them, as SVG spells lists (signs and points may part them too: `1-2.5.5`). */
export function parseNumbers(text: string): Parsed<number[]> {
  const token = /[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?/y;
  const gap = /\s*,?\s*/y;
  const values: number[] = [];
  let at = text.length - text.trimStart().length;
  const end = text.trimEnd().length;
  while (at < end) {
    token.lastIndex = at;
    const found = token.exec(text);
    if (found === null) return { ok: false, found: `${quoted(text.slice(at, at + 20))} is not a number` };
    const value = Number(found[0]);
    if (!Number.isFinite(value)) return { ok: false, found: `${quoted(found[0])} is too large a number` };
    values.push(value);
    gap.lastIndex = token.lastIndex;
    gap.exec(text);
    at = gap.lastIndex;
  }
  if (/,\s*$/.test(text)) return { ok: false, found: 'a comma with no number after it' };
  return { ok: true, value: values };
}

export interface ViewBox {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export function parseViewBox(text: string): Parsed<ViewBox> {
  const numbers = parseNumbers(text);
  if (!numbers.ok) return numbers;
  const [x, y, width, height] = numbers.value;
  if (numbers.value.length !== 4 || !(width! > 0) || !(height! > 0)) {
    return { ok: false, found: `viewBox ${quoted(text)} is not four numbers with width and height above zero` };
  }
  return { ok: true, value: { x: x!, y: y!, width: width!, height: height! } };
}

export interface Fit {
  /** 0, 0.5 or 1 of the free room before the box; null: stretched both ways. */
  readonly align: { readonly x: number; readonly y: number } | null;
  readonly slice: boolean;
}

const SHARE: Readonly<Record<string, number>> = { Min: 0, Mid: 0.5, Max: 1 };

export function parseFit(text: string): Parsed<Fit> {
  const match = /^\s*(?:defer\s+)?(?:(none)|x(Min|Mid|Max)Y(Min|Mid|Max))(?:\s+(meet|slice))?\s*$/.exec(text);
  if (match === null)
    return { ok: false, found: `preserveAspectRatio ${quoted(text)} is not one of the published values` };
  const align = match[1] === 'none' ? null : { x: SHARE[match[2]!]!, y: SHARE[match[3]!]! };
  return { ok: true, value: { align, slice: match[4] === 'slice' } };
}
