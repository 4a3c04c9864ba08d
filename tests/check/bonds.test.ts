/** Floor and glue against the force bound. S275 of EN 10025-2: Rp 275, so a floor of 0.2 mm carries 0.577 x 275 x 0.2 = 31.7 N for each mm of edge. */
import { describe, expect, it } from 'vitest';
import { checkBonds } from '../../src/check/bonds.ts';
import { checkPrograms } from '../../src/check/check.ts';
import { Findings } from '../../src/check/findings.ts';
import type { Loads } from '../../src/check/load.ts';
import type { Stroke } from '../../src/check/stroke.ts';
import { wantedOf } from '../../src/check/wanted/wanted.ts';
import type { Work } from '../../src/check/work.ts';
import { loopArea, loopLength } from '../../src/geometry/measure/loop.ts';
import type { Job } from '../../src/part/part.ts';
import { hullLoop, leverJob, leverProgram } from './lever.ts';

const LENGTH = loopLength(hullLoop(0));
const FLOOR = 31.735 * LENGTH;

/** What is told of a holding under one greatest force. */
function told(hold: object, force: number, job: Job = leverJob({ material: 'S275JR' })): string[] {
  const loads: Loads = { forces: () => [{ stroke: {} as Stroke, force }] };
  const programs = [{ head: { hold: { block: 6, figure: null, thread: null, ...hold } } }];
  const work = { job, wanted: wantedOf(job), strokes: [], programs, complete: true } as unknown as Work;
  const out = new Findings(['a.ngc']);
  checkBonds(work, loads, out);
  return [...out.list.map((f) => `${f.severity} ${f.code}`), ...out.notProven.map((d) => d.what)];
}

describe('strength of what holds', () => {
  it('of a floor: shear all round, twice wanted, refused where a sharp cutter would tear it', () => {
    const floor = { by: 'floor', figure: 0.2 };
    const rest = ['lifting off the floor'];
    expect(told(floor, FLOOR / 2.02)).toEqual(rest);
    expect(told(floor, FLOOR / 1.98)).toEqual(['caution hold-weak', ...rest]);
    expect(told(floor, FLOOR * 1.68)).toEqual(['caution hold-weak', ...rest]);
    expect(told(floor, FLOOR * 1.72)).toEqual(['fault hold-weak', ...rest]);
    expect(told({ ...floor, figure: 0.1 }, FLOOR / 2.02)).toEqual(['caution hold-weak', ...rest]);
  });

  it('of glue: what the job states for the wetted face, holes left out', () => {
    const job = leverJob({ hold: { by: 'glue', shear: 2, tension: 1, wetted: 0.6 } });
    const carried = 2 * 0.6 * (loopArea(hullLoop(0)) - (Math.PI / 4) * 25);
    const rest = ['glue against lifting and heat'];
    expect(told({ by: 'glue' }, carried / 1.01, job)).toEqual(rest);
    expect(told({ by: 'glue' }, carried / 0.99, job)).toEqual(['caution hold-weak', ...rest]);
    expect(told({ by: 'glue' }, carried * 1.72, job)).toEqual(['fault hold-weak', ...rest]);
  });

  it('of screws, and of glue that the job does not know, is said to be not proven', () => {
    expect(told({ by: 'screws' }, 1e6)).toEqual(['strength of the screws']);
    expect(told({ by: 'glue' }, 1e6)).toEqual(['strength of the glue']);
    expect(told({ by: 'tabs' }, 1e6)).toEqual([]);
  });

  it('is looked at in a program on a floor', () => {
    const floor = (t: string) => t.replace('(HOLD tabs)', '(HOLD floor 0.0001)').replaceAll(/\(TAB.*\n/g, '');
    const job = leverJob({ hold: { by: 'floor', thickness: 0.0001 } });
    const report = checkPrograms([{ file: 'lever.ngc', text: floor(leverProgram()) }], job);
    expect(report.faults.map((f) => f.code)).toContain('hold-weak');
  });
});
