/** One program for each statement of proof: as it should be it is given the statement, and with a fault of the statement's own it is not. */
import { describe, expect, it } from 'vitest';
import { checkPrograms } from '../../../src/check/check.ts';
import type { FaultCode, ProofName } from '../../../src/check/report/codes.ts';
import type { Job } from '../../../src/part/part.ts';
import { mustMake } from '../../helpers.ts';
import { type Knobs, leverJob, leverProgram } from '../lever.ts';

interface Program {
  readonly text: string;
  readonly job: Job;
}

interface Case {
  readonly good: Program;
  readonly spoiled: Program;
  readonly by: FaultCode;
}

const lever = (knobs: Knobs = {}, edit = (text: string) => text, job: Job = leverJob()): Program => {
  const text = leverProgram(knobs);
  return { text: edit(text), job };
};

const clamped = (job: Job): Job => ({ ...job, clamps: [{ kind: 'block', min: [0, 0], max: [15, 30], top: 12 }] });
/** A plate half a millimetre thicker than the part, and not faced. */
const thick = (job: Job): Job => ({ ...job, stock: { ...job.stock, max: [75, 30, 0.5], above: 0.5, measured: 4.5 } });
const asThick = (text: string) => text.replace('TO X75 Y30 Z0', 'TO X75 Y30 Z0.5').replaceAll('G0 Z1\n', 'G0 Z2\n');
const free = (text: string) => text.replace(/\(TAB.*\n/g, '').replaceAll('Z-3.2', 'Z-4.1');

function made(hold: object): Program {
  const job = {
    name: 'lever',
    material: 'EN-AW-6082-T6',
    part: {
      thickness: 3,
      outline: {
        bosses: [
          { at: [0, 0], radius: 9 },
          { at: [40, 0], radius: 7 },
        ],
      },
    },
    stock: { size: [90, 40, 3], measured: 3 },
    clamps: [
      { from: [0, 0], to: [8, 40], height: 12 },
      { from: [82, 0], to: [90, 40], height: 12 },
    ],
    place: [{ at: [25, 20] }],
    hold,
    cutters: [{ number: 1, kind: 'slot drill', diameter: 4, flutes: 2, material: 'carbide' }],
  };
  const out = mustMake(JSON.stringify(job));
  return { text: out.programs[0]!.text, job: out.job };
}

const onStub = made({ by: 'stub', at: 0, direction: 180, width: 6 });
const glued = (knobs: Knobs = {}) =>
  lever(
    knobs,
    (t) => free(t).replace('(HOLD tabs)', '(HOLD glue)'),
    leverJob({ material: 'POM', hold: { by: 'glue', shear: 8, tension: 6, wetted: 1 } }),
  );
const wider = (by: number): Program => {
  const { text, job } = onStub;
  if (job.hold.by !== 'stub') throw new Error('no stub');
  const width = job.hold.width + by;
  return {
    text: text.replace(/(HOLD stub .*WIDTH )[\d.]+/, `$1${width}`),
    job: { ...job, hold: { ...job.hold, width } },
  };
};

const CASES: Readonly<Record<ProofName, Case>> = {
  gouge: { good: lever(), spoiled: lever({ offset: -0.0062 }), by: 'gouge' },
  rapids: {
    good: lever(),
    spoiled: lever({}, (t) => t.replace('G1 Z0 F120\nG1', 'G1 Z0 F120\nG0')),
    by: 'rapid-in-stock',
  },
  'edge reached': { good: lever(), spoiled: lever({ offset: 0.012 }), by: 'edge-uncut' },
  'hole places': { good: lever(), spoiled: lever({ drillAt: { x: 22.004, y: 15 } }), by: 'hole-place' },
  tabs: { good: lever(), spoiled: lever({ cutWidth: 1.9 }), by: 'tab-width' },
  stubs: { good: onStub, spoiled: wider(0.3), by: 'stub-width' },
  clamps: { good: lever(), spoiled: lever({}, (t) => t, clamped(leverJob())), by: 'clamp-hit' },
  'faces and floors': { good: lever(), spoiled: lever({}, asThick, thick(leverJob())), by: 'face-uncut' },
  'still held': { good: lever(), spoiled: lever({}, free, leverJob({ hold: { by: 'auto' } })), by: 'part-loose' },
  feeds: { good: lever(), spoiled: lever({ feed: 790 }), by: 'feed-too-high' },
  loads: { good: lever(), spoiled: lever({ passes: [-4.1], feed: 790 }), by: 'cutter-breaks' },
  'strength of what holds': { good: lever(), spoiled: lever({ tabWidth: 0.2, tabHeight: 0.1 }), by: 'tabs-weak' },
  'glue kept cool': { good: glued({ feed: 60 }), spoiled: glued({ feed: 790 }), by: 'feed-too-high' },
};

const check = ({ text, job }: Program) => checkPrograms([{ file: 'a.ngc', text }], job);

describe('a fault of its own takes the statement down', () => {
  it.each(Object.entries(CASES))('%s', (what, { good, spoiled, by }) => {
    const before = check(good);
    expect(before.faults).toEqual([]);
    expect(before.proven.map((p) => p.what)).toContain(what);
    const after = check(spoiled);
    expect(after.faults.map((f) => f.code)).toContain(by);
    expect(after.proven.map((p) => p.what)).not.toContain(what);
  });
});
