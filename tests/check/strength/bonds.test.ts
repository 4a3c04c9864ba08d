/** Floor and glue against the force bound. S275 of EN 10025-2: Rp 275, so a floor of 0.2 mm carries 0.577 x 275 x 0.2 = 31.7 N for each mm of edge. */
import { describe, expect, it } from 'vitest';
import { checkPrograms } from '../../../src/check/check.ts';
import { Findings } from '../../../src/check/report/findings.ts';
import { bondFace, bondShare } from '../../../src/check/strength/bond-face.ts';
import { checkBonds } from '../../../src/check/strength/bonds.ts';
import type { Loads } from '../../../src/check/strength/load.ts';
import { madeStroke, type Stroke, toolOf } from '../../../src/check/strokes/stroke.ts';
import { type WantedPart, wantedOf } from '../../../src/check/wanted/wanted.ts';
import type { CheckedSetUp } from '../../../src/check/work.ts';
import { loopArea, loopLength } from '../../../src/geometry/measure/loop.ts';
import { line } from '../../../src/geometry/measure/segment.ts';
import type { Point } from '../../../src/geometry/types.ts';
import type { Job } from '../../../src/part/part.ts';
import { LENGTH as APART, AT, cutter, hullLoop, leverJob, leverProgram, T } from '../lever.ts';

const LENGTH = loopLength(hullLoop(0));
const FLOOR = 31.735 * LENGTH;

/** What is told of a holding under one greatest force. */
function told(hold: object, force: number, job: Job = leverJob({ material: 'S275JR' })): string[] {
  const loads = loadsOf(force, 0);
  const programs = [{ head: { hold: { block: 6, figure: null, thread: null, ...hold }, events: [] } }];
  const work = { job, wanted: wantedOf(job), strokes: [], programs, complete: true } as unknown as CheckedSetUp;
  const out = new Findings(['a.ngc']);
  checkBonds(work, [], loads, out);
  return [
    ...out.list.map((f) => `${f.severity} ${f.code}`),
    ...out.proven.map((p) => `proven ${p.what}`),
    ...out.notProven.map((d) => d.what),
  ];
}

/** One short stroke at the middle of the lever, of a flat cutter that pulls as hard as its helix can. */
function loadsOf(force: number, worst: number, work = 0): Loads {
  const at = { x: AT.x + APART / 2, y: AT.y };
  const stroke = strokeOf(1, at, { x: at.x + 0.1, y: at.y }, -T);
  return {
    forces: (where) => [{ stroke, force, worst, depth: 0, work, seconds: 60 }].filter((f) => where(f.stroke)),
  };
}

function strokeOf(index: number, a: Point, b: Point, low: number): Stroke {
  const own = {
    index,
    program: 0,
    block: 9,
    rapid: false,
    feed: 60,
    speed: 500,
    turning: true,
    cycle: null,
    step: null,
  };
  return madeStroke(line(a, b), low, low, { ...own, tool: toolOf(cutter(1, 'end mill', 3)) });
}

describe('strength of what holds', () => {
  it('of a floor: shear all round, twice wanted, refused where a sharp cutter would tear it', () => {
    const floor = { by: 'floor', figure: 0.2 };
    const rest = ['proven strength of what holds'];
    expect(told(floor, FLOOR / 2.02)).toEqual(rest);
    expect(told(floor, FLOOR / 1.98)).toEqual(['caution hold-weak', ...rest]);
    expect(told(floor, FLOOR * 1.68)).toEqual(['caution hold-weak', ...rest]);
    expect(told(floor, FLOOR * 1.72)).toEqual(['fault hold-weak', ...rest]);
    expect(told({ ...floor, figure: 0.1 }, FLOOR / 2.02)).toEqual(['caution hold-weak', ...rest]);
  });

  it('of glue: what the job states for the wetted face, holes left out', () => {
    const job = leverJob({ hold: { by: 'glue', shear: 2, tension: 1, wetted: 0.6 } });
    const carried = 2 * 0.6 * (loopArea(hullLoop(0)) - (Math.PI / 4) * 25);
    const rest = ['proven strength of what holds', 'proven glue kept cool'];
    expect(told({ by: 'glue' }, carried / 1.01, job)).toEqual(rest);
    expect(told({ by: 'glue' }, carried / 0.99, job)).toEqual(['caution hold-weak', ...rest]);
    expect(told({ by: 'glue' }, carried * 1.72, job)).toEqual(['fault hold-weak', ...rest]);
  });

  it('of screws, and of glue that the job does not know, is said to be not proven', () => {
    expect(told({ by: 'screws' }, 1e6)).toEqual(['strength of what holds']);
    expect(told({ by: 'glue' }, 1e6)).toEqual(['strength of what holds']);
    expect(told({ by: 'tabs' }, 1e6)).toEqual([]);
  });

  it('is looked at in a program on a floor', () => {
    const floor = (t: string) => t.replace('(HOLD tabs)', '(HOLD floor 0.0001)').replaceAll(/\(TAB.*\n/g, '');
    const job = leverJob({ hold: { by: 'floor', thickness: 0.0001 } });
    const report = checkPrograms([{ file: 'lever.ngc', text: floor(leverProgram()) }], job);
    expect(report.faults.map((f) => f.code)).toContain('hold-weak');
  });
});

describe('glue under a stiff part', () => {
  /** Round two bosses of 5 mm, 20 mm apart: its box and its inside worked out here. */
  const slot = (): WantedPart => {
    const box = { minX: -5, maxX: 25, minY: -5, maxY: 5 };
    const inside = (p: { x: number; y: number }) => Math.hypot(p.x - Math.max(0, Math.min(20, p.x)), p.y) < 5;
    return { edge: { box, inside }, loop: hullLoop(0, 5, 5, 20), holes: [], pockets: [] } as unknown as WantedPart;
  };

  it('has the area and second moments of its face: a slot of two half discs and a rectangle', () => {
    const f = bondFace(slot());
    const area = 10 * 20 + Math.PI * 25;
    // About the long axis: b h^3/12 and pi r^4/4.
    const across = (20 * 10 ** 3) / 12 + (Math.PI * 5 ** 4) / 4;
    expect(f.area / area).toBeCloseTo(1, 1);
    expect(f.yy / across).toBeCloseTo(1, 1);
    expect(f.xx).toBeGreaterThan(4 * f.yy);
    expect(Math.abs(f.xy)).toBeLessThan(0.01 * f.yy);
    expect(f.middle.x).toBeCloseTo(10, 1);
  });

  it('is pulled N/A in the middle, and N/A + M c/I at the rim under a push aside', () => {
    const f = bondFace(slot());
    const allowed = { shear: 1e9, pull: 1 };
    const at = f.middle;
    expect(bondShare(f, { at, sideways: 0, up: 10, z: 0 }, allowed)).toBeCloseTo(10 / f.area, 6);
    const far = bondShare(f, { at: { x: at.x + 10, y: at.y }, sideways: 0, up: 10, z: 0 }, allowed);
    expect(far).toBeCloseTo(10 / f.area + (10 * 10 * 15) / f.xx, 3);
    // 10 N at 4 mm height tips it over its narrow way: M c/I with c = 5.
    const tipped = bondShare(f, { at, sideways: 10, up: 0, z: 4 }, allowed) / ((10 * 4 * 5) / f.yy);
    // A push that is not quite square to the long axis asks a little more at the ends of the straights.
    expect(tipped).toBeGreaterThan(0.999);
    expect(tipped).toBeLessThan(1.1);
  });
});

describe('what is proven of the holding, and what not', () => {
  /** A stroke across the profile's way, before the one that pushes. */
  const beside = (low: number) => strokeOf(0, { x: AT.x - 7.5, y: AT.y - 7.5 }, { x: AT.x - 7.5, y: AT.y + 7.5 }, low);

  const proofs = (hold: object, loads: Loads, job: Job, low = -T) => {
    const programs = [{ head: { hold: { block: 6, figure: null, thread: null, ...hold }, events: [] } }];
    const work = {
      job,
      wanted: wantedOf(job),
      strokes: [beside(low)],
      programs,
      complete: true,
    } as unknown as CheckedSetUp;
    const out = new Findings(['a.ngc']);
    checkBonds(work, [], loads, out);
    const faults = out.list.map((f) => `${f.severity} ${f.code}`);
    return { proven: out.proven.map((p) => p.what), not: out.notProven.map((d) => d.why), faults };
  };

  it('glue that tears or gets hot is not proven, with the figure', () => {
    const job = leverJob({ hold: { by: 'glue', shear: 2, tension: 1, wetted: 0.6 } });
    expect(proofs({ by: 'glue' }, loadsOf(1, 10, 5), job).proven).toEqual(['strength of what holds', 'glue kept cool']);
    expect(proofs({ by: 'glue' }, loadsOf(1, 5000, 5), job).not[0]).toMatch(
      /the glue bears 0\.0 times .* 1 times is wanted/,
    );
    expect(proofs({ by: 'glue' }, loadsOf(1, 10, 1e5), job).not[0]).toMatch(/K above its backing plate/);
  });

  it('glue that bears not even a sharp cutter is refused, from where the part hangs on the plate no more', () => {
    const job = leverJob({ hold: { by: 'glue', shear: 2, tension: 1, wetted: 0.6 } });
    const glue = { by: 'glue' };
    const told = (push: number, low?: number) => proofs(glue, loadsOf(1, push, 5), job, low);
    const least = Number(/bears ([\d.]+) times/.exec(told(1000).not[0]!)![1]) * 1000;
    expect(told(least * 0.9)).toMatchObject({ faults: [], not: [] });
    // Worn tools ask 1.7 times as much.
    expect(told(least * 1.6).faults).toEqual([]);
    expect(told(least * 1.6).not).toHaveLength(1);
    expect(told(least * 1.8).faults).toEqual(['fault hold-weak']);
    expect(told(least * 1.8, -T + 1.1)).toMatchObject({ faults: [], not: [] });
  });
});
