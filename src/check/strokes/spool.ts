/**
 * A list that grows with the program and takes memory that does not: items stand in pages, the pages used last stay as they are, others are
 * packed into numbers and put away where the caller says. Short lists never leave memory.
 */

/** Where packed pages are put away. Reading gives back what was written, number for number. */
export interface Shelf {
  /** Pages that stay as they are, beside the one that grows; the rest are packed. */
  readonly open: number;
  write(page: number, numbers: Float64Array): void;
  /** Fills `numbers`; the page has been written before. */
  read(page: number, numbers: Float64Array): void;
}

export interface Packing<T> {
  /** Numbers that an item takes. */
  readonly width: number;
  pack(item: T, index: number, numbers: Float64Array, from: number): void;
  unpack(index: number, numbers: Float64Array, from: number): T;
}

/** Items of a page, a power of two. */
const PAGE_BITS = 10;
const PAGE = 1 << PAGE_BITS;
/** 32 768 strokes, some 15 MB: more than nearly all programs of this trade have. */
export const PAGES_OPEN = 32;

/** Keeps packed pages in memory: a quarter of what the items take. */
export function inMemory(): Shelf {
  const pages = new Map<number, Float64Array>();
  return {
    open: PAGES_OPEN,
    write: (page, numbers) => void pages.set(page, numbers.slice()),
    read: (page, numbers) => numbers.set(pages.get(page)!),
  };
}

/** Items are not changed once they are in: a page is written once. */
export class Spool<T> implements Iterable<T> {
  length = 0;
  private readonly packing: Packing<T>;
  private readonly shelf: Shelf;
  /** Used last comes last. */
  private readonly held = new Map<number, T[]>();
  private readonly written = new Set<number>();
  private scratch: Float64Array | null = null;
  private lastPage = -1;
  private last: T[] = [];

  constructor(packing: Packing<T>, shelf: Shelf) {
    this.packing = packing;
    this.shelf = shelf;
  }

  push(item: T): void {
    const page = this.length >> PAGE_BITS;
    if ((this.length & (PAGE - 1)) === 0) this.hold(page, []);
    this.page(page).push(item);
    this.length++;
  }

  /** Undefined outside the list. */
  at(index: number): T | undefined {
    if (index < 0 || index >= this.length) return undefined;
    return this.page(index >> PAGE_BITS)[index & (PAGE - 1)];
  }

  [Symbol.iterator](): IterableIterator<T> {
    return this.range(0, this.length);
  }

  /** Items from `from` up to, not with, `to`. */
  *range(from: number, to: number): IterableIterator<T> {
    const end = Math.min(to, this.length);
    for (let i = Math.max(0, from); i < end; ) {
      const page = i >> PAGE_BITS;
      const items = this.page(page);
      const stop = Math.min(end, (page + 1) << PAGE_BITS);
      for (; i < stop; i++) yield items[i & (PAGE - 1)]!;
    }
  }

  /** From the last to the first. */
  *backwards(from = this.length): IterableIterator<T> {
    for (let i = Math.min(from, this.length) - 1; i >= 0; i--) yield this.at(i)!;
  }

  private page(page: number): T[] {
    if (page === this.lastPage) return this.last;
    const items = this.held.get(page) ?? this.bringBack(page);
    this.held.delete(page);
    this.hold(page, items);
    return items;
  }

  private hold(page: number, items: T[]): void {
    if (!this.held.has(page) && this.held.size >= this.shelf.open) this.putAway();
    this.held.set(page, items);
    this.lastPage = page;
    this.last = items;
  }

  /** What was used longest ago; the page that still grows is never that for long, and stays. */
  private putAway(): void {
    const growing = this.length >> PAGE_BITS;
    for (const [page, items] of this.held) {
      if (page === growing) continue;
      this.held.delete(page);
      if (!this.written.has(page)) this.store(page, items);
      return;
    }
  }

  private store(page: number, items: readonly T[]): void {
    const { width } = this.packing;
    const numbers = this.room();
    for (const [i, item] of items.entries()) this.packing.pack(item, page * PAGE + i, numbers, i * width);
    this.shelf.write(page, numbers);
    this.written.add(page);
  }

  private bringBack(page: number): T[] {
    const { width } = this.packing;
    const numbers = this.room();
    this.shelf.read(page, numbers);
    const count = Math.min(PAGE, this.length - page * PAGE);
    return Array.from({ length: count }, (_, i) => this.packing.unpack(page * PAGE + i, numbers, i * width));
  }

  private room(): Float64Array {
    this.scratch ??= new Float64Array(PAGE * this.packing.width);
    return this.scratch;
  }
}
