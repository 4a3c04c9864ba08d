/** A slot as deep as the cutter is wide is told; a shallow one and a side cut as deep are not. */
import { describe, expect, it } from 'vitest';
import { Findings } from '../../src/check/findings.ts';
import { lookAtSlot } from '../../src/check/load.ts';
import { madeStroke, toolOf } from '../../src/check/stroke.ts';
import { line } from '../../src/geometry/measure/segment.ts';
import { cutter } from './lever.ts';

const LENGTH = 20;

/** Cut with an end mill of 3 mm. */
function told(depth: number, width: number): string[] {
  const out = new Findings(['a.ngc']);
  const own = { index: 0, program: 0, block: 9, rapid: false, feed: 60, speed: 500, turning: true };
  const path = line({ x: 0, y: 0 }, { x: LENGTH, y: 0 });
  const tool = toolOf(cutter(1, 'end mill', 3));
  const stroke = madeStroke(path, -depth, -depth, { ...own, tool, cycle: null, step: null });
  const slots = new Set<string>();
  for (let i = 0; i < 2; i++) lookAtSlot({ stroke, depth, length: LENGTH, volume: depth * width * LENGTH }, slots, out);
  return out.list.map((f) => `${f.severity} ${f.code}`);
}

describe('depth of a slot', () => {
  it('4.2 mm at once with a cutter of 3 mm is told, once', () => {
    expect(told(4.2, 3)).toEqual(['caution slot-deep']);
  });

  it('a diameter, and a side cut of any depth, are not', () => {
    expect(told(3, 3)).toEqual([]);
    expect(told(4.2, 0.3)).toEqual([]);
  });
});
