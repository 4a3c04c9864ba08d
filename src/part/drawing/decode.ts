/**
 * Bytes to text. Files before the 2007 DXF format are in a Windows code page, later ones and SVG in UTF-8; what is not
 * valid UTF-8 is read as Latin-1, which can only misspell names, never numbers. Written here because the core runs
 * without the browser's or Node's decoder.
 */
export type Decoded =
  | { readonly ok: true; readonly text: string; readonly encoding: 'utf-8' | 'latin-1' | 'utf-16' }
  | { readonly ok: false; readonly found: string };

export function decode(bytes: Uint8Array): Decoded {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return { ok: true, text: utf16(bytes, 0), encoding: 'utf-16' };
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return { ok: true, text: utf16(bytes, 1), encoding: 'utf-16' };
  const start = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf ? 3 : 0;
  const nul = bytes.indexOf(0);
  if (nul !== -1) return { ok: false, found: `a zero byte at offset ${nul}: this is not a text file` };
  const text = utf8(bytes, start);
  return text === null
    ? { ok: true, text: latin1(bytes, start), encoding: 'latin-1' }
    : { ok: true, text, encoding: 'utf-8' };
}

/** Code units handed to String.fromCharCode at once: well below the argument limit of every engine. */
const CHUNK = 8192;

/** Null when the bytes are not valid UTF-8. Plain stretches, nearly all of a drawing, are taken over at once. */
function utf8(bytes: Uint8Array, start: number): string | null {
  const parts: string[] = [];
  let i = start;
  while (i < bytes.length) {
    const plain = plainUntil(bytes, i);
    if (plain > i) {
      parts.push(String.fromCharCode(...bytes.subarray(i, plain)));
      i = plain;
      continue;
    }
    const size = sequenceSize(bytes[i]!);
    const code = codePoint(bytes, i, size);
    if (code === null) return null;
    parts.push(String.fromCodePoint(code));
    i += size;
  }
  return parts.join('');
}

/** End of the stretch of plain ASCII at `from`, at most a chunk on. */
function plainUntil(bytes: Uint8Array, from: number): number {
  const end = Math.min(bytes.length, from + CHUNK);
  let i = from;
  while (i < end && bytes[i]! < 0x80) i++;
  return i;
}

function codePoint(bytes: Uint8Array, at: number, size: number): number | null {
  if (size < 2 || at + size > bytes.length) return null;
  let code = bytes[at]! & (0xff >> (size + 1));
  for (let k = 1; k < size; k++) {
    const next = bytes[at + k]!;
    if ((next & 0xc0) !== 0x80) return null;
    code = (code << 6) | (next & 0x3f);
  }
  return code > 0x10ffff ? null : code;
}

function sequenceSize(first: number): number {
  if (first >= 0xc2 && first < 0xe0) return 2;
  if (first >= 0xe0 && first < 0xf0) return 3;
  return first >= 0xf0 && first < 0xf5 ? 4 : 0;
}

function latin1(bytes: Uint8Array, start: number): string {
  const parts: string[] = [];
  for (let i = start; i < bytes.length; i += CHUNK) parts.push(String.fromCharCode(...bytes.subarray(i, i + CHUNK)));
  return parts.join('');
}

function utf16(bytes: Uint8Array, highFirst: 0 | 1): string {
  const parts: string[] = [];
  let units: number[] = [];
  for (let i = 2; i + 1 < bytes.length; i += 2) {
    units.push((bytes[i + 1 - highFirst]! << 8) | bytes[i + highFirst]!);
    if (units.length >= CHUNK) {
      parts.push(String.fromCharCode(...units));
      units = [];
    }
  }
  parts.push(String.fromCharCode(...units));
  return parts.join('');
}
