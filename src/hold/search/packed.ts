/**
 * Layouts by the room that tabs take: each tab as near the one before as it may stand, or some places on. Where many tabs leave
 * little room beside them, a grid of fixed places misses nearly all that is possible; this one, at its finest, misses nothing.
 */
import type { TabCandidate } from '../scene/candidates.ts';
import { hasRoom, type Spacing } from './room.ts';

export interface Packed {
  /** Indexes into the places, ascending. */
  readonly layouts: readonly (readonly number[])[];
  /** Every place, every second, ... */
  readonly stride: number;
}

/** No more than `most` layouts over the whole edge, as finely as that allows; empty: there is no room. */
export function packedLayouts(places: readonly TabCandidate[], count: number, spacing: Spacing, most: number): Packed {
  const clear = clearOf(places, spacing);
  /** null: more than `most`. */
  const byStride = (stride: number): readonly (readonly number[])[] | null => {
    const found: number[][] = [];
    const chosen: number[] = [];
    const goOn = (from: number): boolean => {
      if (chosen.length === count) {
        if (hasRoom(places, chosen, spacing)) found.push([...chosen]);
        return found.length <= most;
      }
      const end = chosen.length === 0 ? Number.POSITIVE_INFINITY : places[chosen[0]!]!.s + spacing.length + 1e-9;
      for (let n = from; n < places.length; n += stride) {
        if (places[n]!.s + (count - chosen.length) * spacing.footprint > end) break;
        chosen.push(n);
        const more = goOn(clear[n]!);
        chosen.pop();
        if (!more) return false;
      }
      return true;
    };
    return goOn(0) ? found : null;
  };
  for (let stride = 1; ; stride++) {
    const layouts = byStride(stride);
    if (layouts !== null) return { layouts, stride };
  }
}

/** The tightest layout of all that begin at a place, which has room if any has; null: none has. */
export function tightest(places: readonly TabCandidate[], count: number, spacing: Spacing): readonly number[] | null {
  const clear = clearOf(places, spacing);
  for (let first = 0; first < places.length; first++) {
    const layout = [first];
    while (layout.length < count && clear[layout.at(-1)!]! < places.length) layout.push(clear[layout.at(-1)!]!);
    if (layout.length === count && hasRoom(places, layout, spacing)) return layout;
  }
  return null;
}

/** By place: the first after it where the next tab may stand; the number of places where none may. */
function clearOf(places: readonly TabCandidate[], { footprint }: Spacing): readonly number[] {
  let n = 0;
  return places.map((p) => {
    while (n < places.length && places[n]!.s < p.s + footprint - 1e-9) n++;
    return n;
  });
}
