/** What hangs on the moment: tabs as high as they stand then, cones over a tab by their own rise, cutters that a head names in vain. */
import { describe, expect, it } from 'vitest';
import { checkPrograms } from '../../src/check/check.ts';
import { readProgram } from '../../src/check/language/read.ts';
import type { HeadTab } from '../../src/check/program/head.ts';
import { readHead } from '../../src/check/program/head.ts';
import { Findings } from '../../src/check/report/findings.ts';
import { checkGrip } from '../../src/check/strength/grip.ts';
import type { Loads } from '../../src/check/strength/load.ts';
import { type Stroke, strokesOf, type Tool, toolOf } from '../../src/check/strokes/stroke.ts';
import { TabGauge } from '../../src/check/tabs/tabs.ts';
import { wantedOf } from '../../src/check/wanted/wanted.ts';
import type { CheckedSetUp } from '../../src/check/work.ts';
import { line, segmentBox } from '../../src/geometry/measure/segment.ts';
import { cutter, leverJob, leverProgram, T, tabPlaces } from './lever.ts';
import { spooled } from './spooled.ts';

describe('tabs against a push, as high as they stand at the moment', () => {
  /** After the profile both tabs are cut down to 0.1 mm. */
  const thinned = () => {
    const over = tabPlaces().flatMap(({ at, deg }) => {
      const [c, s] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];
      const p = (k: number) => `X${(at.x + 1.5 * c - k * s).toFixed(4)} Y${(at.y + 1.5 * s + k * c).toFixed(4)}`;
      return ['G0 Z20', `G0 ${p(-3)}`, `G1 Z${-T + 0.1} F20`, `G1 ${p(3)} F20`];
    });
    const head = leverProgram().replaceAll('HEIGHT 0.8', 'HEIGHT 0.1');
    return head.replace(/G0 Z20\nM5\nM2/, [...over, 'G0 Z20', 'M5', 'M2'].join('\n'));
  };

  it('carry before they are thinned what they do not carry after', () => {
    const job = leverJob();
    const tools = new Map(job.cutters.map((c) => [c.number, toolOf(c)]));
    const read = readProgram(thinned(), { unknownAfterStop: true, slots: 99 });
    const made = read.moves.flatMap((m) => strokesOf(m, 0, tools.get(m.tool ?? 0) ?? tools.get(1)!, 0));
    const list = spooled(made);
    const strokes = [...list];
    const head = readHead(read.comments, 'mm');
    const wanted = wantedOf(job);
    const tabs = head.tabs.map((t) => measured(t, strokes));
    expect(tabs.map((t) => t.height)).toEqual([expect.closeTo(0.1, 4), expect.closeTo(0.1, 4)]);
    const work = {
      job,
      wanted,
      strokes: list,
      programs: [{ head, index: 0 }],
      complete: true,
    } as unknown as CheckedSetUp;
    const low = strokes.filter((s) => !s.rapid && s.low < -T);
    const told = (stroke: Stroke) => {
      const force = { stroke, force: 60, worst: 60, depth: 0.1, work: 0, seconds: 1 };
      const loads: Loads = { forces: (where) => [force].filter((f) => where(f.stroke)) };
      const out = new Findings(['a.ngc']);
      checkGrip(work, tabs, false, loads, out);
      return out.list.map((f) => f.code);
    };
    expect(told(low.at(-1)!)).toEqual([]);
    // The last cut, across a thinned tab.
    expect(told(strokes.filter((s) => !s.rapid && s.low < 0 && s.za === s.zb).at(-1)!)).toEqual(['tabs-weak']);
  });
});

function measured(tab: HeadTab, strokes: readonly Stroke[]) {
  const gauge = new TabGauge(tab, T);
  for (const s of strokes) gauge.add(s);
  return gauge.measured();
}

describe('a cone over a tab', () => {
  const cone: Tool = toolOf(cutter(7, 'chamfer cutter', 6));
  const tab: HeadTab = {
    ...{ number: 1, part: 0, at: { x: 0, y: 0 }, directionDeg: 90 },
    ...{ width: 2, height: 0.8, footprint: 8, block: 1 },
  };
  /** Along the edge y = 0, 1 mm out, its tip 0.5 mm above the lower face. */
  const stroke = (from: number, to: number): Stroke => {
    const path = line({ x: from, y: 1 }, { x: to, y: 1 });
    const z = -T + 0.5;
    const state = { feed: 100, speed: 5000, turning: true, cycle: null, step: null };
    const rest = { index: 0, program: 0, block: 1, rapid: false, ...state };
    return { ...rest, path, box: segmentBox(path), za: z, zb: z, low: z, tool: cone };
  };

  it('cuts as low as its tip where it crosses the middle, and higher by what it rises where it turns back before', () => {
    expect(measured(tab, [stroke(-5, 5)]).height).toBeCloseTo(0.5, 3);
    // 0.4 mm short of the middle: 0.4 mm higher there, at 45 degrees.
    expect(measured(tab, [stroke(-5, -0.4)]).height).toBeCloseTo(0.9, 3);
    // So far off that its rim does not reach it.
    expect(measured(tab, [stroke(-9, -3.5)]).height).toBe(T);
  });
});

describe('a cutter that the head names', () => {
  const faults = (text: string) => checkPrograms([{ file: 'a.ngc', text }], leverJob()).faults;

  it('and that does nothing is told at its line', () => {
    const text = leverProgram().replace('(CUTTER 2 drill D5)', '(CUTTER 2 drill D5)\n(CUTTER 4 end mill D2)');
    const [fault] = faults(text);
    expect(fault).toMatchObject({
      code: 'head-disagrees',
      found: 'the head names cutter 4, and nothing is done with it',
    });
    expect(text.split('\n')[fault!.place.line! - 1]).toBe('(CUTTER 4 end mill D2)');
  });

  it('alone needs no T word, but a move', () => {
    const bare = (body: string) =>
      leverProgram({ withDrill: false })
        .replace('(CUTTER 2 drill D5)\n', '')
        .replace(/T1 M6[\s\S]*M2/, body);
    expect(faults(bare('M0\nM2')).map((f) => f.found)).not.toContain(
      'the head names cutter 1, and nothing is done with it',
    );
    expect(faults(bare('M2')).map((f) => f.found)).toContain('the head names cutter 1, and nothing is done with it');
  });
});
