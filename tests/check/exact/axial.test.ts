/** Drills, reamers and taps: led along their axes, as their kind is led. Strokes made here by hand. */
import { describe, expect, it } from 'vitest';
import { checkAxial } from '../../../src/check/exact/axial.ts';
import { Findings } from '../../../src/check/report/findings.ts';
import { checkSlivers } from '../../../src/check/strokes/slivers.ts';
import { madeStroke, type Stroke, toolOf } from '../../../src/check/strokes/stroke.ts';
import { arc, line } from '../../../src/geometry/measure/segment.ts';
import type { Cutter, Machine } from '../../../src/part/part.ts';
import { cutter, leverJob } from '../lever.ts';

const drill = cutter(3, 'drill', 2);
const reamer = cutter(4, 'reamer', 5, { lead: 1.5 });
const tap = cutter(5, 'tap', 3);
const at = { x: 22, y: 15 };

function stroke(c: Cutter, za: number, zb: number, rest: Partial<Stroke> = {}): Stroke {
  const path = rest.path ?? line(at, at);
  const own = { index: 0, program: 0, block: 9, rapid: false, tool: toolOf(c), feed: 60, speed: 500, turning: true };
  return madeStroke(path, za, zb, { ...own, cycle: null, step: null, ...rest });
}

function told(strokes: readonly Stroke[], tapping: Machine['tapping'] = 'hand'): string[] {
  const out = new Findings(['a.ngc']);
  const job = leverJob();
  checkAxial(strokes, { ...job, machine: { ...job.machine, tapping } }, out);
  checkSlivers(strokes, out);
  return out.list.map((f) => `${f.severity} ${f.code}`);
}

const pecks = (by: number) => Array.from({ length: 12 }, (_, i) => stroke(drill, 0, -(i + 1) * by));

describe('cutters along their axis', () => {
  it('a drill goes straight down and out, and not sideways', () => {
    expect(told([stroke(drill, 1, -4), stroke(drill, -4, 1, { rapid: true })])).toEqual([]);
    const aside = line(at, { x: at.x + 0.002, y: at.y });
    expect(told([stroke(drill, -4, -4, { path: aside })])).toEqual(['fault drill-sideways']);
    expect(told([stroke(drill, 1, 1, { path: aside })])).toEqual([]);
  });

  it('a tap turns with its cycle, on a machine that taps', () => {
    const cycle = [
      stroke(tap, 1, -4, { cycle: 84, step: 'feed' }),
      stroke(tap, -4, 1, { cycle: 84, step: 'feed-out' }),
    ];
    expect(told(cycle, 'machine')).toEqual([]);
    expect(told(cycle)).toEqual(['fault tap-unguided', 'fault tap-unguided']);
    const fed = [stroke(tap, 1, -3), stroke(tap, -3, 5, { rapid: true })];
    expect(told(fed, 'machine')).toEqual(['fault tap-unguided', 'fault tap-unguided']);
    expect(told([stroke(tap, 20, 2, { rapid: true })])).toEqual([]);
  });

  it('a reamer is fed out', () => {
    expect(told([stroke(reamer, 1, -5), stroke(reamer, -5, 1)])).toEqual([]);
    expect(told([stroke(reamer, 1, -5), stroke(reamer, -5, 1, { rapid: true })])).toEqual(['caution ream-rapid-out']);
  });

  it('pecks are no smaller than a drill cuts, and a hole is not drilled over and over', () => {
    expect(told(pecks(0.5))).toEqual([]);
    expect(told(pecks(0.002))).toEqual(['caution peck-small']);
    expect(told([...pecks(0.5), stroke(drill, -5.9, -6.01)])).toEqual([]);
    expect(told(Array.from({ length: 9 }, () => stroke(drill, 1, -4)))).toEqual(['caution drilled-again']);
  });

  it('an arc whose ends a control may take for one is refused; circles and short arcs are not', () => {
    const mill = cutter(1, 'end mill', 3);
    const turn = (sweep: number, radius = 12) => stroke(mill, -1, -1, { path: arc(at, radius, 0.3, sweep) });
    expect(told([turn(0.00005)])).toEqual(['fault arc-sliver']);
    expect(told([turn(0.001)])).toEqual([]);
    expect(told([turn(2 * Math.PI)])).toEqual([]);
    expect(told([turn(0.5, 0.002)])).toEqual([]);
  });
});
