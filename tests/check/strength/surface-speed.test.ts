/** Speed of the edge against the tables, by hand: O1 is drilled at 14 m/min and reamed at 9 with HSS (S8), brass is faster. */
import { describe, expect, it } from 'vitest';
import { Findings } from '../../../src/check/report/findings.ts';
import { checkSurfaceSpeeds } from '../../../src/check/strength/surface-speed.ts';
import { madeStroke, toolOf } from '../../../src/check/strokes/stroke.ts';
import { line } from '../../../src/geometry/measure/segment.ts';
import type { Cutter } from '../../../src/part/part.ts';
import { material } from '../../../src/trade/materials/materials.ts';
import { cutter, leverJob } from '../lever.ts';

const at = { x: 22, y: 15 };
const job = leverJob();

function told(c: Cutter, speed: number, name: 'O1' | 'CuZn39Pb3', minSpeed = 100): string[] {
  const out = new Findings(['a.ngc']);
  const own = { index: 0, program: 0, block: 9, rapid: false, tool: toolOf(c), feed: 60, speed, turning: true };
  const strokes = [0, 1].map(() => madeStroke(line(at, at), 1, -3, { ...own, cycle: null, step: null }));
  checkSurfaceSpeeds(strokes, material(name), { ...job, machine: { ...job.machine, minSpeed } }, out);
  return out.list.map((f) => f.code);
}

describe('speed of the edge', () => {
  const drill = cutter(3, 'drill', 2.4, { material: 'HSS' });
  const reamer = cutter(4, 'reamer', 2.5, { material: 'HSS' });

  it('5000 rev/min is 38 m/min for a drill of 2.4 and 39 for a reamer of 2.5: too fast in tool steel, told once', () => {
    expect(told(drill, 5000, 'O1')).toEqual(['speed-too-high']);
    expect(told(reamer, 5000, 'O1')).toEqual(['speed-too-high']);
    expect(told(drill, 5000, 'CuZn39Pb3')).toEqual([]);
  });

  it('twice the table and less is nobody else’s fault', () => {
    expect(told(drill, 3700, 'O1')).toEqual([]);
    expect(told(drill, 3720, 'O1')).toEqual(['speed-too-high']);
  });

  it('a machine that turns no slower is excused', () => {
    expect(told(drill, 5000, 'O1', 5000)).toEqual([]);
  });

  it('end mills: HSS twice its start in steel, carbide four times', () => {
    expect(told(cutter(1, 'end mill', 6, { material: 'HSS' }), 2000, 'O1')).toEqual(['speed-too-high']);
    expect(told(cutter(1, 'end mill', 6, { material: 'carbide' }), 10_000, 'O1')).toEqual([]);
    expect(told(cutter(1, 'end mill', 6, { material: 'carbide' }), 11_000, 'O1')).toEqual(['speed-too-high']);
  });
});
