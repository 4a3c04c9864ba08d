import type { DrawingFindings } from '../findings.ts';
import { quoted, readDecimal, readInteger } from '../number.ts';

/**
 * The pairs of lines a DXF file is made of (a group code, then its value), kept as offsets into the text: five million
 * small objects would cost more than the whole reading.
 */
export class Tags {
  readonly text: string;
  readonly length: number;
  private readonly codes: Int16Array;
  private readonly starts: Int32Array;
  private readonly ends: Int32Array;
  private readonly findings: DrawingFindings;

  constructor(text: string, findings: DrawingFindings) {
    const pairs = Math.ceil(countLines(text) / 2) + 1;
    this.text = text;
    this.findings = findings;
    this.codes = new Int16Array(pairs);
    this.starts = new Int32Array(pairs);
    this.ends = new Int32Array(pairs);
    this.length = this.scan();
  }

  code(i: number): number {
    return this.codes[i]!;
  }

  value(i: number): string {
    return this.text.slice(this.starts[i]!, this.ends[i]!).trim();
  }

  /** A name: files before the 2007 format spell what their code page lacks as \\U+XXXX. */
  name(i: number): string {
    return this.value(i).replace(/\\U\+([0-9A-Fa-f]{4})/g, (_, hex: string) =>
      String.fromCharCode(Number.parseInt(hex, 16)),
    );
  }

  is(i: number, code: number, value: string): boolean {
    return i < this.length && this.codes[i] === code && this.value(i) === value;
  }

  /** Line of the value, from 1. The group code stands on the line before. */
  line(i: number): number {
    return 2 * i + 2;
  }

  /** The value as a number; a bad one is a fault at its line and gives null. */
  number(i: number): number | null {
    const reading = readDecimal(this.value(i));
    if (reading.ok) return reading.value;
    this.badNumber(i, reading.found);
    return null;
  }

  integer(i: number): number | null {
    const reading = readInteger(this.value(i));
    if (reading.ok) return reading.value;
    this.badNumber(i, reading.found);
    return null;
  }

  private badNumber(i: number, found: string): void {
    this.findings.fault({
      code: 'bad-number',
      at: { line: this.line(i) },
      found: `group ${this.code(i)}: ${found}`,
      wanted: 'digits with a decimal point, as the published DXF format has it',
      remedy: 'export the drawing again; the file is damaged or was written with local number settings',
    });
  }

  /** Returns the number of pairs; stops at the first line that cannot be a group code. */
  private scan(): number {
    const { text } = this;
    let at = 0;
    let n = 0;
    while (at < text.length) {
      const codeEnd = lineEnd(text, at);
      const code = groupCode(text, at, codeEnd);
      if (code === null) return this.badCode(n, text.slice(at, codeEnd), codeEnd >= text.length);
      const start = codeEnd + 1;
      if (codeEnd >= text.length) return this.cutShort(n);
      const end = lineEnd(text, start);
      this.codes[n] = code;
      this.starts[n] = start;
      this.ends[n] = end;
      at = end + 1;
      n++;
      // What follows the end (blank lines, a control-Z) is no part of the drawing.
      if (code === 0 && text.slice(start, end).trim() === 'EOF') break;
    }
    return n;
  }

  private badCode(n: number, found: string, last: boolean): number {
    // A blank last line is harmless.
    if (n > 0 && last && found.trim() === '') return n;
    this.findings.fault({
      code: 'bad-group-code',
      at: { line: 2 * n + 1 },
      found: `${quoted(found.trim())} stands where a group code belongs`,
      wanted: 'a whole number from -5 to 1071 on every odd line (ASCII DXF)',
      remedy: 'export the drawing again as ASCII DXF',
    });
    return n;
  }

  private cutShort(n: number): number {
    this.findings.fault({
      code: 'cut-short',
      at: { line: 2 * n + 1 },
      found: 'the file ends after a group code, without its value',
      wanted: 'pairs of lines up to 0 EOF',
      remedy: REPEAT,
    });
    return n;
  }
}

export const REPEAT = 'copy or export the drawing again: part of it is missing';

function countLines(text: string): number {
  let count = 1;
  for (let i = text.indexOf('\n'); i !== -1; i = text.indexOf('\n', i + 1)) count++;
  return count;
}

function lineEnd(text: string, from: number): number {
  const end = text.indexOf('\n', from);
  return end === -1 ? text.length : end;
}

/** Group code between two offsets, spaces allowed round it; null if it is none. */
function groupCode(text: string, from: number, to: number): number | null {
  let value = 0;
  let digits = 0;
  let sign = 1;
  let closed = false;
  for (let i = from; i < to; i++) {
    const c = text.charCodeAt(i);
    if (c >= 48 && c <= 57) {
      if (closed || digits > 3) return null;
      value = value * 10 + (c - 48);
      digits++;
    } else if (c === 45 && digits === 0 && sign === 1) sign = -1;
    else if (c === 32 || c === 9 || c === 13) closed = digits > 0;
    else return null;
  }
  return digits === 0 || value > 1071 ? null : sign * value;
}
