/** What waits, foremost first: a binary heap. */
export class Foremost<T> {
  private readonly heap: T[] = [];
  private readonly before: (a: T, b: T) => boolean;

  constructor(before: (a: T, b: T) => boolean) {
    this.before = before;
  }

  add(item: T): void {
    const { heap } = this;
    let i = heap.push(item) - 1;
    while (i > 0) {
      const up = (i - 1) >> 1;
      if (!this.before(item, heap[up]!)) break;
      heap[i] = heap[up]!;
      i = up;
    }
    heap[i] = item;
  }

  /** undefined: nothing waits. */
  take(): T | undefined {
    const { heap } = this;
    const first = heap[0];
    const last = heap.pop();
    if (last === undefined || heap.length === 0) return first;
    let i = 0;
    for (let down = 1; down < heap.length; down = 2 * i + 1) {
      if (down + 1 < heap.length && this.before(heap[down + 1]!, heap[down]!)) down++;
      if (!this.before(heap[down]!, last)) break;
      heap[i] = heap[down]!;
      i = down;
    }
    heap[i] = last;
    return first;
  }
}
