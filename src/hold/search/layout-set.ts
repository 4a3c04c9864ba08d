/** Layouts met before. Asked hundreds of thousands of times in a search, where a text of each took longer than what it saved. */
export class LayoutSet {
  private readonly count: number;
  /** Layouts one after another, `count` numbers each. */
  private stored: Int32Array;
  private size = 0;
  /** Open addressing: number of the layout kept there from 1 on, 0 for none. */
  private slots = new Int32Array(FIRST_SLOTS);

  /** Of `count` tabs each. */
  constructor(count: number) {
    this.count = count;
    this.stored = new Int32Array((count * FIRST_SLOTS) / 2);
  }

  /** false: met before, its places in the same order. */
  add(layout: ArrayLike<number>): boolean {
    const { count, stored, slots } = this;
    const at = this.slotOf(layout, 0);
    if (slots[at]! > 0) return false;
    const from = count * this.size;
    for (let i = 0; i < count; i++) stored[from + i] = layout[i]!;
    slots[at] = ++this.size;
    if (2 * this.size >= slots.length) this.grow();
    return true;
  }

  /** Where the layout that begins at `from` is kept or would be. */
  private slotOf(layout: ArrayLike<number>, from: number): number {
    const { count, stored, slots } = this;
    const last = slots.length - 1;
    let hash = 0;
    for (let i = 0; i < count; i++) hash = Math.imul(hash ^ layout[from + i]!, MIX);
    let at = (hash ^ (hash >>> 15)) & last;
    for (; slots[at]! > 0; at = (at + 1) & last) {
      const known = count * (slots[at]! - 1);
      let i = 0;
      while (i < count && stored[known + i] === layout[from + i]) i++;
      if (i === count) break;
    }
    return at;
  }

  private grow(): void {
    const stored = new Int32Array(2 * this.stored.length);
    stored.set(this.stored);
    this.stored = stored;
    this.slots = new Int32Array(2 * this.slots.length);
    for (let n = 0; n < this.size; n++) this.slots[this.slotOf(stored, n * this.count)] = n + 1;
  }
}

/** A power of two. */
const FIRST_SLOTS = 1024;
/** Odd, its bits spread: 2^32 over the golden ratio (Knuth, The Art of Computer Programming, section 6.4). */
const MIX = 0x9e3779b1;
