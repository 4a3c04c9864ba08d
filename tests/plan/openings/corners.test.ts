/** Inside corners of the outline: which cutter goes round, which follows in the corners, and what is left in the end. */
import { describe, expect, it } from 'vitest';
import { checkPrograms } from '../../../src/check/check.ts';
import { windingOf } from '../../../src/geometry/measure/inside.ts';
import { regionArea } from '../../../src/geometry/measure/loop.ts';
import { placeLoop } from '../../../src/geometry/measure/transform.ts';
import { layoutOf, type Made } from '../../../src/job.ts';
import { makeText, mustMake, ROOT, readBesides, shippedPost } from '../../helpers.ts';
import { planOf, type RawJob } from '../jobs.ts';

const mill = (number: number, diameter: number) => ({
  ...{ number, kind: 'end mill', diameter, flutes: 2, fluteLength: 9, stickOut: 18, shank: 6, material: 'carbide' },
});

/** A T: two inside corners of 90 degrees. */
const TEE = {
  vertices: [
    [0, 0],
    [44, 0],
    [44, 12],
    [30, 12],
    [30, 30],
    [14, 30],
    [14, 12],
    [0, 12],
  ],
};

function plate(outline: object, cutters: readonly object[], change: object = {}): RawJob {
  return {
    name: 'corners',
    material: 'CuZn39Pb3',
    part: { thickness: 4, outline },
    stock: { size: [130, 90, 4], measured: 4 },
    place: [{ at: [42, 30] }],
    cutters,
    hold: 'auto',
    ...change,
  };
}

const kinds = (raw: RawJob) => planOf(raw).operations.map((o) => `${o.target.kind} ${o.cutter}`);

describe('inside corners of an outline', () => {
  it('are cut by the largest smaller cutter that takes most of what the one round the part leaves', () => {
    const { operations, told } = planOf(plate(TEE, [mill(1, 4), mill(2, 2), mill(3, 1.5), mill(4, 3.8)]));
    const rest = operations.filter((o) => o.target.kind === 'corners');
    expect(rest.map((o) => o.cutter)).toEqual([2]);
    // Before the profile, as deep as it.
    expect(operations.indexOf(rest[0]!)).toBeLessThan(operations.findIndex((o) => o.what === 'rough'));
    expect(rest[0]!.depths.at(-1)).toBe(operations.findLast((o) => o.what === 'finish')!.depths.at(-1));
    expect(told.filter((p) => p.code === 'corner-left-round').map((p) => p.found)).toEqual([
      'an inside corner of the outline is left with radius 1 mm',
      'an inside corner of the outline is left with radius 1 mm',
    ]);
  });

  it('what is opened there lies in the slot of the profile', () => {
    const { plan, operations } = planOf(plate(TEE, [mill(1, 4), mill(2, 2)]));
    const [rest] = operations.filter((o) => o.target.kind === 'corners');
    if (rest?.target.kind !== 'corners') throw new Error('no corners');
    // A corner of 90 degrees leaves (1 - pi/4) r^2; nothing far from it is cut.
    for (const a of rest.target.areas) {
      expect(regionArea(a)).toBeGreaterThan(4 * (1 - Math.PI / 4));
      expect(regionArea(a)).toBeLessThan((2 + plan.slotWidth) ** 2);
    }
    expect(plan.bare).toHaveLength(2);
  });

  it('are left where no smaller cutter is, or there is hardly anything to gain', () => {
    expect(kinds(plate(TEE, [mill(1, 4)]))).toEqual(['outline 1', 'outline 1', 'outline 1']);
    const blunt = {
      vertices: [
        [0, 0],
        [20, 1],
        [40, 0],
        [40, 20],
        [0, 20],
      ],
    };
    expect(kinds(plate(blunt, [mill(1, 4), mill(2, 2)]))).not.toContain('corners 2');
  });

  it('tight curves do not ask for a narrow cutter all round when one may follow', () => {
    const bent = (fillet: number) => ({
      bosses: [
        { at: [8, 8], radius: 8 },
        { at: [36, 8], radius: 6 },
        { at: [36, 28], radius: 5 },
      ],
      fillet,
    });
    expect(kinds(plate(bent(1), [mill(1, 4), mill(2, 2)]))).toEqual([
      'corners 2',
      'outline 1',
      'outline 1',
      'outline 1',
    ]);
    // A little narrower goes all round; alone it has to.
    expect(kinds(plate(bent(1.5), [mill(1, 4), mill(2, 3)]))).toEqual(['outline 2', 'outline 2', 'outline 2']);
    expect(kinds(plate(bent(1), [mill(2, 2)]))).not.toContain('corners 2');
  });
});

describe('a tab placed by hand', () => {
  const withTab = (at: number[], noTabs: object[] = []) => {
    const raw = plate(TEE, [mill(1, 4), mill(2, 2)], {
      hold: { by: 'tabs', tabs: { at: [at, [22, 0], [22, 30]], width: 2, height: 0.8 } },
    }) as { part: object };
    return JSON.stringify({ ...raw, part: { ...raw.part, noTabs } });
  };
  const refusal = (text: string) => {
    const out = makeText(text);
    return out.ok ? [] : out.problems.map((p) => `${p.code} ${p.place.path}: ${p.found}`);
  };

  it('beside a corner that a smaller cutter cuts is refused for that, by the job itself for what the job says', () => {
    expect(refusal(withTab([30, 12.6]))).toEqual([
      'beside-cut-corner hold.tabs.at[0]: a tab beside an inside corner of the outline that cutter 2 cuts first: the slot there is wider, and the tab would not reach the frame',
    ]);
    // Its middle is free, its waist is not.
    expect(refusal(withTab([41.5, 12], [{ from: [41, 12], to: [36, 12] }]))).toEqual([
      expect.stringContaining('tab-forbidden hold.tabs.at[0]: a tab at 41.5, 12 on a stretch that "noTabs" names'),
    ]);
    const stub = plate(TEE, [mill(1, 4), mill(2, 2)], {
      hold: { by: 'stub', at: [30, 12.6], direction: 0, width: 4 },
    });
    expect(refusal(JSON.stringify(stub))).toEqual([
      'beside-cut-corner hold: a stub beside an inside corner of the outline that cutter 2 cuts first: the slot there is wider, and the stub would not reach the frame',
    ]);
    const free = layoutOf({ text: withTab([40, 0]), file: 'job.json', read: readBesides(ROOT), post: shippedPost });
    expect(free.ok && free.value.tabs).toHaveLength(3);
  });
});

describe('a part with such corners', () => {
  const made = mustMake(JSON.stringify(plate(TEE, [mill(1, 4), mill(2, 2)])), { post: 'standard' });

  it('is made without a fault, no tab where the frame is cut away', () => {
    expect(made.report.faults).toEqual([]);
    expect(made.holding.tabs.length).toBeGreaterThan(1);
    for (const tab of made.holding.tabs) for (const area of opened(made)) expect(windingOf(area, tab.at)).toBe(0);
  });

  it('one corner of two left to the larger cutter is told as uncut', () => {
    const [program] = made.programs;
    const op = made.plan.setups[0]!.operations.find((o) => o.target.kind === 'corners')!;
    const span = program!.operations.find((o) => o.id === op.id)!;
    const lines = program!.text.split('\n');
    // The second corner begins where the cutter first crosses to the other side.
    const middle = made.job.places[0]!.at.x + 22;
    let x = 0;
    const side = lines.map((l, i) => {
      x = Number(l.match(/X(-?[\d.]+)/)?.[1] ?? x);
      return i + 1 > span.from && i + 1 <= span.to && x > middle;
    });
    expect(side.filter((s) => s).length).toBeGreaterThan(10);
    const text = lines.filter((_, i) => !side[i]).join('\n');
    const { faults } = checkPrograms([{ file: 'corners.ngc', text }], made.job);
    expect(faults.map((f) => f.code)).toContain('edge-uncut');
  });

  it('come after the screws that hold the part: they are the first of its outline', () => {
    const part = {
      thickness: 4,
      outline: TEE,
      holes: [
        { at: [6, 6], clear: 'M3' },
        { at: [38, 6], clear: 'M3' },
      ],
    };
    const { cutters: _, ...raw } = plate(TEE, []);
    const screws = { by: 'screws', through: [0, 1], thread: 'M3' };
    const under = { kind: 'plate', thickness: 12 };
    const { plan, report } = mustMake(JSON.stringify({ ...raw, part, under, hold: screws }));
    const { operations } = plan.setups[0]!;
    const first = operations.find((o) => o.target.kind === 'corners' || o.what === 'rough')!;
    expect(first.target.kind).toBe('corners');
    expect(first.stopBefore?.kind).toBe('screws');
    expect(report.faults).toEqual([]);
  });
});

function opened(m: Made) {
  return m.plan.setups[0]!.operations.flatMap((o) =>
    o.target.kind === 'corners' ? o.target.areas.map((a) => placeLoop(m.job.places[0]!, a.outer)) : [],
  );
}
