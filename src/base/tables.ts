/**
 * What is worked out once and asked for often. A session makes one `Tables`, hands it to every stage and drops it: nothing is kept at
 * module level. It also carries the one way to break off long work, since who needs the one needs the other.
 */

/** What an entry depends on: objects by identity (they are not kept alive), everything else by value. */
export type TableKey = object | string | number | boolean | null;

/** The name of one table and the types of its keys and values; it holds nothing itself. */
export interface Table<Keys extends readonly TableKey[], Value> {
  readonly title: string;
  /** Never there: ties the types to the name. */
  readonly types?: (keys: Keys) => Value;
}

/** To be called once at module level, as `const CUTS = table<[job: Job, cutter: number], Cuts>('cuts of a job')`. */
export function table<Keys extends readonly TableKey[], Value>(title: string): Table<Keys, Value> {
  return Object.freeze({ title });
}

/** Thrown by `mayStop` and caught by the session alone: no stage handles it, and nothing half made is kept. */
export class Stopped extends Error {
  override readonly name = 'Stopped';
}

export class Tables {
  readonly #root = new Node();
  readonly #stopped: () => boolean;

  /** `stopped`: asked at each check point; yes breaks the work off. */
  constructor(stopped: () => boolean = () => false) {
    this.#stopped = stopped;
  }

  /**
   * The entry for these keys, made where there is none. All that `make` reads must follow from the keys, so that an entry is the
   * same whoever asks first. Where `make` throws, nothing is entered.
   */
  once<const Keys extends readonly TableKey[], Value>(of: Table<Keys, Value>, keys: Keys, make: () => Value): Value {
    let node = this.#root.under(of);
    for (const key of keys) node = node.under(key);
    if (!node.full) {
      node.value = make();
      node.full = true;
    }
    return node.value as Value;
  }

  /**
   * A check point of long work: a few microseconds to a few milliseconds apart, since a stop is to be answered within 50 ms.
   * Whatever is being changed in place must be whole here, or be dropped with the throw.
   */
  readonly mayStop = (): void => {
    if (this.#stopped()) throw new Stopped('stopped as asked');
  };
}

/** One place in a table: its entry, and the places one key further on. */
class Node {
  full = false;
  value: unknown = undefined;
  readonly #objects = new WeakMap<object, Node>();
  readonly #values = new Map<TableKey, Node>();

  under(key: TableKey): Node {
    const isObject = typeof key === 'object' && key !== null;
    let next = isObject ? this.#objects.get(key) : this.#values.get(key);
    if (next !== undefined) return next;
    next = new Node();
    if (isObject) this.#objects.set(key, next);
    else this.#values.set(key, next);
    return next;
  }
}
