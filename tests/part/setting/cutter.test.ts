/** Cutters: defaults on the cautious side, one effective diameter, what is refused. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CUTTER_KINDS } from '../../../src/part/part.ts';
import { runs, SEED } from '../../runs.ts';
import { type Loose, leverWith, read, readGood, theFault } from '../jobs.ts';

const withCutters = (cutters: Loose[], finish?: Loose): Loose =>
  leverWith((j) => {
    j.cutters = cutters;
    if (finish !== undefined) j.finish = finish;
  });
const mill = { number: 1, kind: 'end mill', diameter: 3 };

describe('defaults', () => {
  it('an end mill may not go straight down unless it says so, a slot drill may', () => {
    const [a, b, c] = readGood(
      withCutters([mill, { ...mill, number: 2, kind: 'slot drill' }, { ...mill, number: 3, centreCutting: true }]),
    ).cutters;
    expect([a!.centreCutting, b!.centreCutting, c!.centreCutting]).toEqual([false, true, true]);
  });

  it('every kind is read from number, kind and diameter alone, and says what was assumed', () => {
    const cutters = CUTTER_KINDS.map((kind, i) => ({
      number: i + 1,
      kind,
      ...(kind === 'tap' ? { thread: 'M3' } : { diameter: 4 }),
    }));
    const job = readGood(withCutters(cutters));
    expect(job.cutters.map((c) => c.kind)).toEqual(CUTTER_KINDS);
    for (const c of job.cutters) {
      expect(c.fluteLength).toBeGreaterThan(0);
      expect(c.stickOut).toBeGreaterThanOrEqual(c.fluteLength);
      expect(job.defaults.some((d) => d.startsWith(`Cutter ${c.number}, ${c.kind}`))).toBe(true);
    }
    expect(job.cutters.find((c) => c.kind === 'tap')).toMatchObject({ thread: 'M3', nominal: 3 });
    expect(job.cutters.find((c) => c.kind === 'drill')).toMatchObject({ pointDeg: 118 });
    expect(job.cutters.find((c) => c.kind === 'end mill')).toMatchObject({ pointDeg: 180, material: 'HSS' });
  });

  it('the flat of a countersink is sharp unless given, and is refused on others or as wide as the cutter', () => {
    const sink = { number: 2, kind: 'countersink', diameter: 6.3 };
    expect(readGood(withCutters([mill, sink])).cutters[1]).toMatchObject({ tip: 0 });
    expect(readGood(withCutters([mill, sink])).defaults.join(' ')).toContain('a sharp point, no flat');
    expect(readGood(withCutters([mill, { ...sink, tip: 1.5 }])).cutters[1]).toMatchObject({ tip: 1.5 });
    expect(theFault(withCutters([mill, { ...sink, tip: 6.3 }])).code).toBe('cutter-tip');
    expect(theFault(withCutters([{ ...mill, tip: 1 }])).code).toBe('key-not-for-cutter');
  });

  it('a cutter that says everything has nothing assumed', () => {
    const whole = {
      ...mill,
      flutes: 2,
      fluteLength: 9,
      stickOut: 18,
      shank: 6,
      material: 'carbide',
      helix: -30,
      centreCutting: true,
      holder: { diameter: 30, length: 40 },
    };
    const job = readGood(withCutters([whole]));
    expect(job.defaults.filter((d) => d.startsWith('Cutter'))).toEqual([]);
    expect(job.cutters[0]).toMatchObject({ helixDeg: -30, cornerRadius: 0 });
  });

  it('without cutters the stated drawer is at hand, with the taps the job needs', () => {
    const job = readGood(leverWith(() => {}));
    expect(job.cutters.every((c) => c.fromDrawer)).toBe(true);
    expect(new Set(job.cutters.map((c) => c.number)).size).toBe(job.cutters.length);
    // What the lever's holes want: tapping drill 2.05 (ISO 2306) and 4.9 under the 5 mm reamer, with neighbours to stand in.
    const drills = job.cutters.filter((c) => c.kind === 'drill').map((c) => c.diameter);
    for (const d of [2, 2.05, 2.1, 4.8, 4.9, 5]) expect(drills).toContain(d);
    expect(job.cutters.filter((c) => c.kind === 'reamer').map((c) => c.diameter)).toContain(5);
    expect(job.cutters.map((c) => c.number)).toEqual(job.cutters.map((_, i) => i + 1));
    // NISTIR 6556, B.5.4: 68 places in the table of cutters.
    expect(job.cutters.length).toBeLessThanOrEqual(60);
    expect(job.cutters.filter((c) => c.kind === 'tap').map((c) => c.thread)).toEqual(['M2.5']);
    expect(job.defaults.join(' ')).toContain('stated drawer');
  });
});

describe('effective diameter', () => {
  const measured = (feature: string, nominal: number, actual: number) => ({ measured: { feature, nominal, actual } });

  it('an outside size that measures large shows that the cutter cuts smaller, by the whole error', () => {
    // Path half a believed diameter outside the edge: the real edge of the cutter falls short by e/2 on either side.
    const job = readGood(withCutters([mill], measured('outside', 12, 12.06)));
    expect(job.cutters[0]!.diameter).toBeCloseTo(2.94, 9);
    expect(job.cutters[0]!.nominal).toBe(3);
  });

  it.each(['inside', 'bore', 'pocket', 'slot'])('%s size that measures large shows that it cuts larger', (feature) => {
    expect(readGood(withCutters([mill], measured(feature, 8, 8.05))).cutters[0]!.diameter).toBeCloseTo(3.05, 9);
  });

  it('cutting again with the corrected diameter gives the nominal size, outside and inside', () => {
    let seen = 0;
    fc.assert(
      fc.property(
        fc.double({ min: 2, max: 6, noNaN: true }),
        fc.double({ min: -0.14, max: 0.14, noNaN: true }),
        fc.double({ min: 10, max: 30, noNaN: true }),
        fc.boolean(),
        (diameter, off, nominal, outside) => {
          seen++;
          const real = diameter + off;
          // The controller runs the path for the believed diameter; what is cut follows from the real one.
          const cut = (believed: number) => (outside ? nominal + believed - real : nominal - believed + real);
          const finish = measured(outside ? 'outside' : 'inside', nominal, cut(diameter));
          const effective = readGood(withCutters([{ ...mill, diameter }], finish)).cutters[0]!.diameter;
          expect(cut(effective)).toBeCloseTo(nominal, 9);
        },
      ),
      { numRuns: runs(100), seed: SEED },
    );
    expect(seen).toBeGreaterThanOrEqual(10);
  });

  it('corrects flat-ended mills only', () => {
    const job = readGood(
      withCutters(
        [mill, { number: 2, kind: 'drill', diameter: 5 }, { number: 3, kind: 'chamfer cutter', diameter: 6 }],
        measured('outside', 12, 12.1),
      ),
    );
    expect(job.cutters.map((c) => c.diameter)).toEqual([3 - (12.1 - 12), 5, 6]);
  });

  it('a measured cutter keeps its figure; the part is not added to it', () => {
    const outcome = read(
      withCutters(
        [
          { ...mill, measured: 2.96 },
          { ...mill, number: 2 },
        ],
        measured('outside', 12, 12.06),
      ),
    );
    if (!outcome.ok) throw new Error('not read');
    expect(outcome.value.cutters.map((c) => Number(c.diameter.toFixed(9)))).toEqual([2.96, 2.94]);
    expect(outcome.problems.map((p) => p.code)).toEqual(['measured-twice']);
  });

  it('corrects the stated drawer as well', () => {
    const job = readGood(leverWith((j) => (j.finish = measured('outside', 12, 11.98))));
    const mills = job.cutters.filter((c) => c.kind === 'end mill');
    expect(mills.length).toBeGreaterThan(2);
    for (const c of mills) expect(c.diameter - c.nominal).toBeCloseTo(0.02, 9);
  });

  it.each([
    [withCutters([mill], measured('outside', 12, 13)), 'correction-too-large'],
    [withCutters([{ ...mill, measured: 2 }]), 'correction-too-large'],
  ])('case %#: an error too large for a cutter is refused', (job, code) => {
    expect(theFault(job).code).toBe(code);
  });
});

describe('cutters that cannot be', () => {
  it.each<[string, Loose[], string]>([
    ['number twice', [mill, mill], 'cutter-number-twice'],
    ['flutes longer than stick-out', [{ ...mill, fluteLength: 20, stickOut: 15 }], 'flute-over-stick-out'],
    ['no diameter', [{ number: 1, kind: 'drill' }], 'missing-key'],
    ['a tap without thread', [{ number: 1, kind: 'tap', diameter: 3 }], 'tap-thread'],
    ['a tap of no known thread', [{ number: 1, kind: 'tap', thread: 'M2.7' }], 'unknown-thread'],
    ['a drill with a thread', [{ number: 1, kind: 'drill', diameter: 3, thread: 'M3' }], 'key-not-for-cutter'],
    ['two points', [{ number: 1, kind: 'drill', diameter: 3, point: 118, angle: 90 }], 'cutter-point'],
    ['corner radius', [{ ...mill, cornerRadius: 2 }], 'corner-radius'],
    ['no cutters', [], 'out-of-range'],
    ['number nought', [{ ...mill, number: 0 }], 'out-of-range'],
  ])('%s', (_, cutters, code) => {
    expect(theFault(withCutters(cutters)).code).toBe(code);
  });
});
