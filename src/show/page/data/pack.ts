/**
 * Integers packed small: varint columns, deflated, base64. The deflater is JavaScript (it comes with three), not the platform's,
 * because zlib builds differ in their output and the page must be the same bytes on every system.
 */
import { deflateSync, inflateSync } from 'three/examples/jsm/libs/fflate.module.js';

export class ColumnWriter {
  private bytes = new Uint8Array(1024);
  private size = 0;

  /** 0 and up, below 2^53. */
  count(value: number): void {
    let v = value;
    while (v >= 128) {
      this.byte((v % 128) | 128);
      v = Math.floor(v / 128);
    }
    this.byte(v);
  }

  /** Any integer; small ones of either sign take one byte. */
  signed(value: number): void {
    this.count(value < 0 ? -2 * value - 1 : 2 * value);
  }

  byte(value: number): void {
    if (this.size === this.bytes.length) {
      const more = new Uint8Array(this.size * 2);
      more.set(this.bytes);
      this.bytes = more;
    }
    this.bytes[this.size++] = value;
  }

  done(): Uint8Array {
    return this.bytes.subarray(0, this.size);
  }
}

export class ColumnReader {
  private readonly bytes: Uint8Array;
  private at = 0;

  constructor(bytes: Uint8Array) {
    this.bytes = bytes;
  }

  count(): number {
    let scale = 1;
    let sum = 0;
    for (;;) {
      const b = this.bytes[this.at++];
      if (b === undefined) throw new RangeError('packed column ended early');
      sum += (b & 127) * scale;
      if (b < 128) return sum;
      scale *= 128;
    }
  }

  signed(): number {
    const v = this.count();
    return v % 2 === 1 ? -(v + 1) / 2 : v / 2;
  }

  byte(): number {
    return this.bytes[this.at++] ?? 0;
  }
}

/** Several columns as one packed text. */
export function packColumns(columns: readonly Uint8Array[]): string {
  const head = new ColumnWriter();
  head.count(columns.length);
  for (const c of columns) head.count(c.length);
  const whole = new Uint8Array(head.done().length + columns.reduce((n, c) => n + c.length, 0));
  whole.set(head.done());
  let at = head.done().length;
  for (const c of columns) {
    whole.set(c, at);
    at += c.length;
  }
  return packBytes(whole);
}

export function unpackColumns(packed: string): Uint8Array[] {
  const whole = unpackBytes(packed);
  const head = new ColumnReader(whole);
  const lengths = Array.from({ length: head.count() }, () => head.count());
  let at = whole.length - lengths.reduce((a, b) => a + b, 0);
  return lengths.map((n) => {
    at += n;
    return whole.subarray(at - n, at);
  });
}

export function packText(text: string): string {
  return packBytes(new TextEncoder().encode(text));
}

export function unpackText(packed: string): string {
  return new TextDecoder().decode(unpackBytes(packed));
}

/** Strings are built from so many bytes at a time: a call takes only so many arguments. */
const CHUNK = 0x6000;

function packBytes(bytes: Uint8Array): string {
  const small = deflateSync(bytes, { level: 6 });
  const texts: string[] = [];
  for (let i = 0; i < small.length; i += CHUNK) texts.push(String.fromCharCode(...small.subarray(i, i + CHUNK)));
  return btoa(texts.join(''));
}

function unpackBytes(packed: string): Uint8Array {
  const text = atob(packed);
  const bytes = new Uint8Array(text.length);
  for (let i = 0; i < text.length; i++) bytes[i] = text.charCodeAt(i);
  return inflateSync(bytes);
}
