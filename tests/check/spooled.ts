/** Strokes made by hand as the check takes them: in a list, each with its place. */
import { inMemory } from '../../src/check/strokes/spool.ts';
import type { Stroke } from '../../src/check/strokes/stroke.ts';
import { type Strokes, spoolOfStrokes } from '../../src/check/strokes/strokes.ts';

export function spooled(strokes: readonly Stroke[]): Strokes {
  const list = spoolOfStrokes([...new Set(strokes.map((s) => s.tool))], inMemory());
  for (const [index, s] of strokes.entries()) list.push({ ...s, index });
  return list;
}
