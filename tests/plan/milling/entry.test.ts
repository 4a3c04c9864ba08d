/** How cutters get down into openings, and that the plan says so; what a smaller cutter follows for. */
import { describe, expect, it } from 'vitest';
import { bad, fault } from '../../../src/base/problem.ts';
import { readJob } from '../../../src/part/read.ts';
import { makePlan } from '../../../src/plan/make-plan.ts';
import { must } from '../../paths/helpers.ts';

interface Wish {
  readonly bore?: number;
  readonly slot?: number;
  readonly room?: readonly [number, number];
  /** The room goes through. */
  readonly through?: boolean;
  readonly cutters: readonly object[];
}

const MILL = { number: 1, kind: 'end mill', diameter: 4, flutes: 2 };

function planOf({ bore, slot, room, through, cutters }: Wish) {
  const [long, wide] = room ?? [0, 0];
  const pockets = [
    ...(slot ? [{ outline: { slot: { from: [20, 10], to: [30, 10], width: slot } }, depth: 1 }] : []),
    ...(room ? [{ outline: { vertices: corners(10, 2, long, wide) }, ...(through ? { through } : { depth: 1 }) }] : []),
  ];
  const text = JSON.stringify({
    name: 'entries',
    material: 'EN-AW-6082-T6',
    part: {
      thickness: 4,
      outline: { vertices: corners(0, 0, 60, 30) },
      holes: bore ? [{ at: [50, 10], bore }] : [],
      pockets,
    },
    stock: { size: [130, 70, 4] },
    cutters,
    hold: { by: 'glue', shear: 8, tension: 4 },
  });
  return makePlan(
    must(
      readJob(text, 'job.json', {
        read: () => bad(fault({ code: 'file-missing', found: '', wanted: '', remedy: '' })),
      }),
    ),
  );
}

function corners(x: number, y: number, long: number, wide: number) {
  return [
    [x, y],
    [x + long, y],
    [x + long, y + wide],
    [x, y + wide],
  ];
}

function operations(wish: Wish) {
  return must(planOf(wish)).setups[0]!.operations.filter((o) => !['rough', 'finish'].includes(o.what));
}

describe('entries', () => {
  it.each([
    ['helix', { bore: 8, cutters: [MILL] }, 'goes down on a helix'],
    ['helix in a slot with room beside the cutter', { slot: 7, cutters: [MILL] }, 'goes down on a helix'],
    ['helix where the path would be too short', { room: [5, 5], cutters: [MILL] }, 'goes down on a helix'],
    [
      'ramp where loops beside the cutter would be small',
      { slot: 6, cutters: [MILL] },
      'goes down a ramp along its path, a slot first, and back along the other wall: only 0.8 mm beside it',
    ],
    ['ramp where there is no room', { slot: 4.4, cutters: [MILL] }, 'goes down a ramp along its path'],
    [
      'straight down, by a cutter made for it',
      { bore: 4.2, cutters: [{ ...MILL, centreCutting: true }] },
      'cuts at its centre',
    ],
  ] as const)('%s', (_, wish, words) => {
    const [first] = operations(wish);
    expect(first!.reasons.join('; ')).toContain(words);
  });

  it('a start hole is drilled where the cutter has no other way down, even if it could plunge', () => {
    for (const centreCutting of [false, true]) {
      const cutters = [
        { ...MILL, centreCutting },
        { number: 2, kind: 'drill', diameter: 3.7 },
      ];
      const [drill, bore, ...more] = operations({ bore: 4.2, cutters });
      expect(more).toEqual([]);
      expect(drill!.title).toContain('drill 3.7 mm to start the bore');
      expect(bore!.reasons.join('; ')).toContain('into a start hole of 3.7 mm');
    }
  });

  it('so is one in a pocket, in its widest place', () => {
    for (const centreCutting of [false, true]) {
      const cutters = [
        { ...MILL, centreCutting },
        { number: 2, kind: 'drill', diameter: 3.7 },
      ];
      const [drill, pocket, ...more] = operations({ room: [4.3, 4.9], through: true, cutters });
      expect(more).toEqual([]);
      expect(drill!.title).toBe('drill 3.7 mm to start pocket 1');
      // Its full diameter goes through.
      expect(drill!.depths[0]).toBeLessThan(-4 - 1);
      expect(pocket!.reasons.join('; ')).toContain('into a start hole of 3.7 mm');
      // The widest place of a rectangle is anywhere along its middle line.
      const { target } = pocket!;
      if (target.kind !== 'pocket' || target.start === null) throw new Error('no start hole');
      expect(target.start.x).toBeCloseTo(12.15, 2);
      expect(Math.abs(target.start.y - 4.45)).toBeLessThan(0.31);
    }
  });

  it('without such a drill a pocket is plunged into, and that is said, or refused', () => {
    const [pocket] = operations({ room: [4.3, 4.9], cutters: [{ ...MILL, centreCutting: true }] });
    expect(pocket!.reasons.join('; ')).toContain('goes straight down');
    const out = planOf({ room: [4.3, 4.9], cutters: [{ ...MILL, centreCutting: false }] });
    expect(out.ok ? [] : out.problems.map((p) => p.code)).toEqual(['no-way-down']);
  });

  it('over a floor a start hole helps only a cutter that cuts at its centre: the cone is left', () => {
    const drill = { number: 2, kind: 'drill', diameter: 3.7 };
    const made = operations({ room: [4.3, 4.9], cutters: [{ ...MILL, centreCutting: true }, drill] });
    expect(made.map((o) => o.what)).toEqual(['drill', 'pocket']);
    expect(made[0]!.depths).toEqual([-1]);
    const out = planOf({ room: [4.3, 4.9], cutters: [{ ...MILL, centreCutting: false }, drill] });
    expect(out.ok ? [] : out.problems.map((p) => p.code)).toEqual(['no-way-down']);
  });

  it('a drill too thin to free the middle of the cutter is no start hole', () => {
    const made = planOf({ bore: 4.2, cutters: [MILL, { number: 2, kind: 'drill', diameter: 3 }] });
    expect(made.ok).toBe(false);
    expect(made.problems.map((p) => p.code)).toContain('no-way-down');
  });
});

describe('a smaller cutter', () => {
  const three = [6, 3, 1].map((diameter, i) => ({ number: i + 1, kind: 'end mill', diameter, flutes: 2 }));

  it('follows for the corners: the largest that takes most of what is left there', () => {
    const made = operations({ room: [30, 20], cutters: three });
    expect(made.map((o) => o.cutter)).toEqual([1, 2]);
    expect(made[1]!.title).toContain('what the 6 mm cutter left');
    expect(made[1]!.target).toMatchObject({ kind: 'pocket', after: 6 });
    // Closed form: four corners of 90 degrees, (4 - pi) r^2.
    const left = made.map((o) => Number(/leaving ([\d.]+) mm2/.exec(o.reasons.join(' '))?.[1]));
    expect(left[0]).toBeCloseTo((4 - Math.PI) * 9, 1);
    expect(left[1]).toBeCloseTo((4 - Math.PI) * 2.25, 1);
  });

  it('does not follow where the first reaches all', () => {
    expect(operations({ bore: 12, cutters: three }).map((o) => o.cutter)).toEqual([1]);
    expect(operations({ slot: 8, cutters: three }).map((o) => o.cutter)).toEqual([1]);
  });
});
