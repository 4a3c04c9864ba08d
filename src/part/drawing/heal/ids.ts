import type { Source } from '../drawing.ts';

/** Every id of the sources, in order, each once. */
export function idsOf(sources: readonly Source[]): readonly string[] {
  return [...new Set(sources.flatMap((s) => s.ids))];
}
