/** What a change leaves as it was keeps its identity, so that what follows from it alone is found in the session's tables again. */

/** `now`, with every part of it that equals what stood there `before` replaced by that one; plain data only. */
export function keepEqual<T>(before: unknown, now: T): T {
  if (before === now || !isComposed(before) || !isComposed(now)) return now;
  if (Array.isArray(before) !== Array.isArray(now)) return now;
  const old = before as Readonly<Record<string, unknown>>;
  const keys = Object.keys(now);
  const kept = keys.map((key) => keepEqual(old[key], (now as Readonly<Record<string, unknown>>)[key]));
  // The order of keys counts as well: it shows where a job is written down.
  const oldKeys = Object.keys(old);
  const same =
    oldKeys.length === keys.length && keys.every((key, i) => key === oldKeys[i] && Object.is(kept[i], old[key]));
  if (same) return before as T;
  return (Array.isArray(now) ? kept : Object.fromEntries(keys.map((key, i) => [key, kept[i]]))) as T;
}

function isComposed(x: unknown): x is object {
  return typeof x === 'object' && x !== null;
}
