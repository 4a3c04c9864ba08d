/** A slot deeper than the material lets a cutter is told; a shallow one and a side cut as deep are not. */
import { describe, expect, it } from 'vitest';
import { Findings } from '../../src/check/report/findings.ts';
import { lookAtSlot } from '../../src/check/strength/load.ts';
import { madeStroke, toolOf } from '../../src/check/strokes/stroke.ts';
import { line } from '../../src/geometry/measure/segment.ts';
import { findMaterial } from '../../src/trade/materials/materials.ts';
import { cutter } from './lever.ts';

const LENGTH = 20;

/** Cut with an end mill of 3 mm. */
function told(depth: number, width: number, material = 'CuZn39Pb3'): string[] {
  const out = new Findings(['a.ngc']);
  const own = { index: 0, program: 0, block: 9, rapid: false, feed: 60, speed: 500, turning: true };
  const path = line({ x: 0, y: 0 }, { x: LENGTH, y: 0 });
  const tool = toolOf(cutter(1, 'end mill', 3));
  const stroke = madeStroke(path, -depth, -depth, { ...own, tool, cycle: null, step: null });
  const slots = new Set<string>();
  const stretch = { stroke, depth, length: LENGTH, volume: depth * width * LENGTH };
  const found = findMaterial(material);
  if (found.kind === 'unknown') throw new Error(material);
  for (let i = 0; i < 2; i++) lookAtSlot(stretch, found.value, slots, out);
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

  it('0.73 diameters at once is told in tool steel, stainless and iron, and not in brass and aluminium', () => {
    for (const m of ['O1', 'C45', 'S275JR', '1.4301', 'EN-GJL-250']) {
      expect(told(2.2, 3, m), m).toEqual(['caution slot-deep']);
      expect(told(1.5, 3, m), m).toEqual([]);
    }
    for (const m of ['CuZn39Pb3', 'EN-AW-6082-T6', 'POM']) expect(told(2.2, 3, m), m).toEqual([]);
  });
});
