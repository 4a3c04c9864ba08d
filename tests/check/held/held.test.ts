import { describe, expect, it } from 'vitest';
import { describeProblem } from '../../../src/base/problem.ts';
import { checkPrograms } from '../../../src/check/check.ts';
import type { Report } from '../../../src/check/report.ts';
import type { Job } from '../../../src/part/part.ts';
import { cutter, type Knobs, leverJob, leverProgram } from '../lever.ts';

function check(k: Knobs, edit: (t: string) => string = (t) => t, job: Job = leverJob()): Report {
  return checkPrograms([{ file: 'lever.ngc', text: edit(leverProgram(k)) }], job);
}

function codes(r: Report): string[] {
  return [...new Set(r.faults.map((f) => f.code))].sort();
}

const FREE: Partial<Job> = { hold: { by: 'auto' } };

describe('still held', () => {
  it('is proved for a part on tabs', () => {
    expect(check({}).proven.map((p) => p.what)).toContain('still held');
  });

  it('a part cut free is found, at the block that frees it', () => {
    const cut = (t: string) => t.replace(/\(TAB.*\n/g, '').replaceAll('Z-3.2', 'Z-4.1');
    const r = check({}, cut, leverJob(FREE));
    const loose = r.faults.find((f) => f.code === 'part-loose');
    expect(loose).toBeDefined();
    const text = cut(leverProgram({})).split('\n');
    // The last pass closes on itself at the end of its ramp: the line that runs back along the first 8 mm.
    const last =
      text.length -
      text
        .slice()
        .reverse()
        .findIndex((l) => l.includes('Z-4.1'));
    expect(loose!.block).toBe(last);
  });

  it('one tab is enough to be held, though not to be strong', () => {
    const one = (t: string) => {
      const lines = t.split('\n');
      const at = lines.lastIndexOf('G1 Z-3.2');
      lines[at] = 'G1 Z-4.1';
      return lines.join('\n').replace(/\(TAB 2.*\n/, '');
    };
    const r = check({}, one, leverJob(FREE));
    expect(codes(r)).not.toContain('part-loose');
  });

  it('screws hold a part cut free after they are fitted, and not before', () => {
    const free = (t: string) =>
      t
        .replace(/\(TAB.*\n/g, '')
        .replaceAll('Z-3.2', 'Z-4.1')
        .replace('(HOLD tabs)', '(HOLD screws M5)');
    const fitted = (t: string) => free(t).replace('T1 M6', 'M0\n(SCREWS FITTED 0)\nT1 M6');
    const asked: Job = leverJob({ hold: { by: 'screws', through: [0], thread: 'M5', tabs: null } });
    expect(codes(check({}, free, asked))).toContain('part-loose');
    // Nothing drills the backing for them here.
    expect(codes(check({}, fitted, asked))).toEqual(['backing-hole']);
    // A job that asks for none cannot bear out that there is a thread to hold them.
    expect(codes(check({}, fitted, leverJob(FREE)))).toContain('head-disagrees');
    // A move across the head, 4 mm over the face where the head stands 5 high.
    const across = (t: string) => fitted(t).replace(/G0 Z20\nM5\nM2/, 'G0 Z4\nG0 X22 Y15\nG0 Z20\nM5\nM2');
    expect(codes(check({}, across, asked))).toContain('screw-hit');
  });

  it('is judged up to the block at which a clamp is moved', () => {
    const cut = (t: string) => t.replace(/\(TAB.*\n/g, '').replaceAll('Z-3.2', 'Z-4.1');
    const moved = (t: string) => cut(t).replace(/G0 Z20\nM5\nM2/, 'G0 Z20\nM5\n(CLAMP MOVED to the left)\nM2');
    expect(codes(check({}, moved, leverJob(FREE)))).toContain('part-loose');
  });

  it('glue holds everything', () => {
    const glued = (t: string) =>
      t
        .replace(/\(TAB.*\n/g, '')
        .replaceAll('Z-3.2', 'Z-4.1')
        .replace('(HOLD tabs)', '(HOLD glue)');
    const asked = leverJob({ hold: { by: 'glue', shear: 8, tension: 4, wetted: 0.7 } });
    expect(check({}, glued, asked).faults.map(describeProblem)).toEqual([]);
    expect(codes(check({}, glued, leverJob(FREE)))).toContain('head-disagrees');
  });

  it('a floor holds, and a floor cut too thin is refused', () => {
    const onFloor = (z: string) => (t: string) =>
      t
        .replace(/\(TAB.*\n/g, '')
        .replaceAll('Z-3.2', 'Z-4.1')
        .replaceAll('Z-4.1', z)
        .replace('(HOLD tabs)', '(HOLD floor 0.2)');
    expect(check({}, onFloor('Z-3.8'), leverJob(FREE)).faults.map(describeProblem)).toEqual([]);
    expect(codes(check({}, onFloor('Z-3.84'), leverJob(FREE)))).toEqual(['floor-thin']);
    expect(codes(check({}, onFloor('Z-3.77'), leverJob(FREE)))).toEqual(['edge-uncut']);
  });

  it('without clamps nothing is claimed', () => {
    const r = check({}, (t) => t, leverJob({ clamps: [] }));
    expect(r.notProven.map((d) => d.what)).toContain('still held');
    expect(r.proven.map((p) => p.what)).not.toContain('still held');
  });
});

describe('loads', () => {
  it('a feed ten times too high is refused', () => {
    const job = leverJob({ machine: { ...leverJob().machine, maxFeed: 5000 } });
    expect(codes(check({}, (t) => t, job))).toEqual([]);
    expect(codes(check({}, (t) => t.replaceAll('F120', 'F1800'), job))).toContain('feed-too-high');
  });

  it('a drill fed ten times too fast is refused', () => {
    const job = leverJob({ machine: { ...leverJob().machine, maxFeed: 5000 } });
    expect(codes(check({}, (t) => t.replace('F60', 'F1500'), job))).toContain('feed-too-high');
  });

  it('a cut beyond the power of the machine is refused', () => {
    const machine = { ...leverJob().machine, power: 5 };
    expect(codes(check({}, (t) => t, leverJob({ machine })))).toContain('power');
  });
});

describe('strength of the tabs', () => {
  const thin = { tabWidth: 0.4, tabHeight: 0.3 };
  const thinly = (t: string) => t.replaceAll('Z-3.2', 'Z-3.7');
  const wish = { by: 'tabs', tabs: { count: 2, width: 0.4, height: 0.3, lightenTo: null, at: null } } as const;

  it('tabs too thin for the passes beside them are told, and refused when a sharp cutter would shear them', () => {
    const r = check(thin, thinly, leverJob({ hold: wish, material: 'CuZn39Pb3' }));
    const told = [...r.cautions, ...r.faults].map((f) => f.code);
    expect(told).toContain('tabs-weak');
    expect(codes(r).filter((c) => c !== 'tabs-weak')).toEqual([]);
  });
});

describe('what is in the way', () => {
  it('a clamp beside the path is hit by the holder, one further off is not', () => {
    const near = leverJob({ clamps: [{ kind: 'block', min: [0, 0], max: [13, 30], top: 12 }, leverJob().clamps[1]!] });
    expect(codes(check({}, (t) => t, near))).toContain('clamp-hit');
    const low = leverJob({ clamps: [{ kind: 'block', min: [0, 0], max: [8, 30], top: 25 }, leverJob().clamps[1]!] });
    expect(codes(check({}, (t) => t, low))).toContain('clamp-hit');
  });

  it('a table under the stock may not be cut', () => {
    const job = leverJob({ under: { kind: 'table', thickness: 0, material: 'EN-GJL-250' } });
    expect(codes(check({}, (t) => t, job))).toContain('cuts-below');
  });

  it('a plate under the stock may be cut into, not through', () => {
    expect(codes(check({ bottom: -10.5 }, (t) => t))).toContain('cuts-below');
  });

  it('flutes, shank and holder', () => {
    const [first, ...rest] = leverJob().cutters;
    const short = leverJob({ cutters: [{ ...first!, fluteLength: 1 }, ...rest] });
    expect(codes(check({}, (t) => t, short))).toContain('flutes-short');
    const thick = leverJob({ cutters: [{ ...first!, fluteLength: 3.5, shank: 6 }, ...rest] });
    expect(codes(check({}, (t) => t, thick))).toContain('shank-rubs');
    const stub = leverJob({ cutters: [{ ...first!, stickOut: 4 }, ...rest] });
    expect(codes(check({}, (t) => t, stub))).toContain('holder-hits');
  });

  it('a cutter without a cutting centre may not plunge', () => {
    const [, ...rest] = leverJob().cutters;
    const job = leverJob({ cutters: [cutter(1, 'end mill', 3, { shank: 3 }), ...rest] });
    expect(codes(check({}, (t) => t, job))).toEqual(['plunge']);
  });

  it('a reamer needs a hole drilled before it', () => {
    const [mill, drill, ...rest] = leverJob().cutters;
    const reamer = cutter(2, 'reamer', 5, { fluteLength: 40, stickOut: 60, shank: 5 });
    const head = (t: string) => t.replace('CUTTER 2 drill', 'CUTTER 2 reamer');
    expect(codes(check({}, head, leverJob({ cutters: [mill!, reamer, ...rest] })))).toEqual(['no-hole-before']);
    const both = leverJob({ cutters: [mill!, { ...drill!, number: 9, diameter: 4.8 }, reamer, ...rest] });
    const first = (t: string) =>
      head(t).replace(
        'T2 M6',
        'T9 M6\nM0\nG0 Z20\nG0 X22 Y15\nM3 S2000\nG81 X22 Y15 Z-6 R1 F60\nG80\nG0 Z20\nM5\nT2 M6',
      );
    expect(codes(check({}, first, both))).toEqual([]);
  });

  it('travel beyond the machine', () => {
    const job = leverJob({ machine: { ...leverJob().machine, travel: [30, 150, 150] } });
    expect(codes(check({}, (t) => t, job))).toEqual(['travel']);
  });
});

describe('rapids straight down', () => {
  const down = (z: string) => (t: string) => {
    // After the profile, go back over the start of the last pass.
    const lines = t.split('\n');
    const end = lines.lastIndexOf('G0 Z20');
    lines.splice(end, 0, 'G0 Z5', `G0 ${z}`);
    return lines.join('\n');
  };

  it('into a slot already cut, ending 0.2 above its floor', () => {
    expect(codes(check({}, down('Z-3.9')))).toEqual([]);
  });

  it('nearer to its floor than 0.2', () => {
    expect(codes(check({}, down('Z-4')))).toEqual(['rapid-plunge']);
  });

  it('into whole stock', () => {
    expect(codes(check({}, (t) => t.replace('G0 Z1\nG1 Z0', 'G0 Z-0.5\nG1 Z0')))).toContain('rapid-plunge');
  });
});

describe('several programs', () => {
  const one = (k: Knobs, n: number, of: number) => ({
    file: `lever-${n}.ngc`,
    text: leverProgram(k).replace('(ZERO stock)', `(lever: program ${n} of ${of}, upper face)\n(ZERO stock)`),
  });
  const drill = one({ withProfile: false }, 1, 2);
  const profile = one({ withDrill: false }, 2, 2);

  it('carry the stock over', () => {
    const r = checkPrograms([drill, profile], leverJob());
    expect(r.faults.map(describeProblem)).toEqual([]);
    expect(r.cutters).toEqual([1, 2]);
  });

  it('must agree on the holding', () => {
    const other = { ...profile, text: profile.text.replace('HEIGHT 0.8', 'HEIGHT 0.82') };
    expect(checkPrograms([drill, other], leverJob()).faults.map((f) => f.code)).toEqual(['head-differs']);
  });

  it('with one absent, features are not proven instead of uncut', () => {
    const r = checkPrograms([profile], leverJob());
    expect(r.faults.map(describeProblem)).toEqual([]);
    expect(r.notProven.map((d) => d.what)).toContain('hole 1 of part 1 cut');
  });
});

describe('without a job', () => {
  it('language, time, extent and cutters', () => {
    const r = checkPrograms([{ file: 'x.ngc', text: leverProgram() }], null);
    expect(r.faults).toEqual([]);
    expect(r.notProven.map((d) => d.what)).toContain('the part');
    expect(r.cutters).toEqual([1, 2]);
    expect(r.envelope!.min[2]).toBe(-6);
    // Three laps of about 110 mm at 120 mm/min are near three minutes.
    expect(r.seconds).toBeGreaterThan(150);
    expect(r.seconds).toBeLessThan(300);
  });

  it('an inch program of the same moves gives the same extent', () => {
    const inch = leverProgram()
      .replace('G21', 'G20')
      .replace(/\(.*\)\n/g, '')
      .replace(/([XYZIJRQF])(-?[\d.]+)/g, (_, w: string, v: string) => `${w}${(Number(v) / 25.4).toFixed(6)}`);
    const r = checkPrograms([{ file: 'x.ngc', text: inch }], null);
    expect(r.faults.map(describeProblem)).toEqual([]);
    const mm = checkPrograms([{ file: 'x.ngc', text: leverProgram() }], null);
    for (const i of [0, 1, 2]) expect(r.envelope!.min[i]).toBeCloseTo(mm.envelope!.min[i]!, 4);
    expect(r.seconds).toBeCloseTo(mm.seconds, 1);
  });

  it('absurd lengths are refused in good time', () => {
    const far = ['X99999999 Y0', 'X0 Y0 Z-99999999', 'X99999999 Y1 Z-99999999'];
    const arcs = ['G2 X0 Y0 I99999999', 'G18 G2 X0 Z0 K9999999', 'G3 X0 Y0 Z-9999999 I50'];
    for (const words of [...far.map((w) => `G1 ${w}`), ...arcs]) {
      const text = leverProgram().replace('G0 Z1\nG1 Z0', `G0 Z1\nG1 X0 Y0 Z0 F100\n${words}\nG1 Z0`);
      const start = performance.now();
      expect(checkPrograms([{ file: 'x.ngc', text }], leverJob()).faults.length).toBeGreaterThan(0);
      expect(performance.now() - start).toBeLessThan(5000);
    }
  });

  it('text that is no program gives problems, not an exception', () => {
    for (const text of ['', '\u0000\u0001', 'hello', '%', 'G1 X', '(', '#1=[']) {
      expect(checkPrograms([{ file: 'x.ngc', text }], leverJob()).faults.length).toBeGreaterThan(0);
    }
  });
});

/** A ring cut out beside the lever, with what is said to be done after it. */
function plug(after: readonly string[]): (t: string) => string {
  const ring = (z: number) => `G3 X64.5 Y25 Z${z} I-3 J0 F60`;
  const down = [-1, -2, -3, -3.9].map(ring);
  const lines = [
    'G0 X64.5 Y25',
    'G0 Z1',
    'G1 Z0 F60',
    ...down,
    ring(-3.9),
    'G1 Z-4.1 F30',
    ring(-4.1),
    'G0 Z20',
    ...after,
  ];
  return (t) => t.replace(/G0 Z20\nM5\nM2/, ['G0 Z20', ...lines, 'M5', 'M2'].join('\n'));
}

describe('a piece that comes loose', () => {
  const told = (after: readonly string[]) => {
    const edit = plug(after);
    expect(edit(leverProgram())).not.toBe(leverProgram());
    const r = check({}, edit);
    const of = (list: Report['faults']) => list.filter((f) => f.code === 'offcut-loose').length;
    return { faults: of(r.faults), cautions: of(r.cautions) };
  };

  it('is told, and no fault while the cutter keeps away', () => {
    expect(told([])).toEqual({ faults: 0, cautions: 1 });
  });

  it('is a fault where the cutter goes round it again', () => {
    expect(told(['G0 X64.5 Y25', 'G1 Z-2 F60', 'G3 X64.5 Y25 I-3 J0 F60', 'G0 Z20'])).toMatchObject({ faults: 1 });
  });

  it('is a fault where the cutter mills the piece itself', () => {
    expect(told(['G0 X58.5 Y25', 'G1 Z-0.8 F60', 'G1 X64.5 F60', 'G0 Z20'])).toMatchObject({ faults: 1 });
  });
});
