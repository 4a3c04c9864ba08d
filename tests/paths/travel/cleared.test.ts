import { describe, expect, it } from 'vitest';
import { arc, line } from '../../../src/geometry/measure/segment.ts';
import { Cleared } from '../../../src/paths/travel/cleared.ts';
import { cutsOf, sample } from '../helpers.ts';

describe('where the way down is open', () => {
  it('only on the path of a cutter at least so wide, and no lower than its higher end', () => {
    const cleared = new Cleared(true);
    cleared.add(1.5, line({ x: 0, y: 0 }, { x: 10, y: 0 }), -1, -3);
    expect(cleared.floorAt({ x: 5, y: 0 }, 1.5)).toBe(-1);
    expect(cleared.floorAt({ x: 5, y: 0.01 }, 1.5)).toBeUndefined();
    expect(cleared.floorAt({ x: 5, y: 0.4 }, 1)).toBe(-1);
    expect(cleared.floorAt({ x: 5, y: 0 }, 2)).toBeUndefined();
    cleared.add(1.5, line({ x: 5, y: -4 }, { x: 5, y: 4 }), -2, -2);
    expect(cleared.floorAt({ x: 5, y: 0 }, 1.5)).toBe(-2);
    cleared.add(1.5, line({ x: 5, y: 0 }, { x: 5, y: 0 }), -2, -4);
    expect(cleared.floorAt({ x: 5, y: 0 }, 1.5)).toBe(-4);
  });

  it('of an arc written as chords only the ends are sure', () => {
    const turn = arc({ x: 0, y: 0 }, 5, 0, Math.PI);
    const chords = new Cleared(false);
    chords.add(1.5, turn, -1, -1);
    expect(chords.floorAt({ x: 0, y: 5 }, 1.5)).toBeUndefined();
    expect(chords.floorAt({ x: 5, y: 0 }, 1.5)).toBe(-1);
    const arcs = new Cleared(true);
    arcs.add(1.5, turn, -1, -1);
    expect(arcs.floorAt({ x: 0, y: 5 }, 1.5)).toBe(-1);
  });

  it('a finishing pass comes down fast in the slot that roughing left', () => {
    const text = sample('lifting-lever').programs[0]!.text.split('\n');
    const at = text.findIndex((l) => l.includes('finish the outline'));
    const fast = text.slice(at, at + 8).filter((l) => /^G0 Z-/.test(l));
    expect(fast).toHaveLength(1);
    expect(cutsOf(text.join('\n')).length).toBeGreaterThan(50);
  });
});
