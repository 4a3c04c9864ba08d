/** Pockets that are open at the edge: where the cutter runs out and goes down, which cutter enters a notch, what stands in the way. */
import { describe, expect, it } from 'vitest';
import { whereIs } from '../../src/geometry/measure/inside.ts';
import type { Holding } from '../../src/hold/holding.ts';
import { makeMoves } from '../../src/paths/paths.ts';
import { box } from '../box.ts';
import { abilities, must } from '../paths/helpers.ts';
import { jobOf, only, planOf, type RawJob, refusals } from './jobs.ts';

const MILLS = [4, 3, 2].map((diameter, i) => ({
  ...{ number: i + 1, kind: 'end mill', diameter, fluteLength: 9, stickOut: 18, shank: 6, material: 'carbide' },
}));

function plate(pockets: RawJob[], change: RawJob = {}): RawJob {
  return {
    name: 'open',
    material: 'CuZn39Pb3',
    part: { thickness: 4, outline: box(0, 0, 40, 24), pockets },
    stock: { size: [160, 120, 4], measured: 4 },
    place: [{ at: [60, 40] }],
    cutters: MILLS,
    hold: 'auto',
    ...change,
  };
}

const plan = (raw: RawJob) => planOf(raw).plan;
const operation = (raw: RawJob, what: string) => plan(raw).setups[0]!.operations.find((o) => o.what === what)!;

const ON_GLUE = {
  ...{ by: 'glue', tabs: [], floor: null, screws: [], screwThread: null, glue: null, stubs: [], rail: 5, reasons: [] },
} as unknown as Holding;

describe('a blind pocket with an open side', () => {
  const slot = (to: number) => plate([{ outline: { slot: { from: [20, 12], to: [20, to], width: 7 } }, depth: 1.5 }]);

  it('is run out of by more than a radius, and says so', () => {
    const o = operation(slot(30), 'pocket');
    const { diameter } = MILLS.find((m) => m.number === o.cutter)!;
    if (o.target.kind !== 'pocket') throw new Error('no pocket');
    // The rim is seen a diameter out when the axis is a radius out.
    expect(o.target.out).toBeGreaterThan(diameter);
    expect(o.reasons.join('; ')).toContain('runs out over the open side');
  });

  it('is gone down into beyond the edge of the part', () => {
    for (const [width, kind] of [
      [7, 'helix'],
      [5, 'ramp'],
    ] as const) {
      const raw = plate([{ outline: { slot: { from: [20, 12], to: [20, 30], width } }, depth: 1.5 }]);
      const job = jobOf(raw);
      expect(operation(raw, 'pocket').reasons.join('; ')).toContain(kind);
      const [program] = must(
        makeMoves({ job, plan: plan(raw), holding: ON_GLUE, post: abilities('standard'), cautions: [] }),
      ).programs;
      const from = program!.moves.findIndex((m) => m.kind === 'operation' && m.title.includes('pocket'));
      const down = program!.moves.slice(from).find((m) => m.kind === 'rapid' && m.x !== undefined);
      if (down?.kind !== 'rapid') throw new Error('no way there');
      const at = { x: down.x! - 60, y: down.y! - 40 };
      expect(whereIs(job.part.outline.loop, at), `${at.x}, ${at.y}`).toBe('outside');
    }
  });

  it('leaves no note of corners at its mouth', () => {
    const { told } = planOf(plate([{ outline: box(10, 16, 20, 24), depth: 1 }]));
    expect(told.filter((p) => p.code === 'corner-left-round').map((p) => p.place.at)).toEqual([
      [10, 16],
      [20, 16],
    ]);
  });

  it('is not cut into the next part', () => {
    const two = slot(30);
    two.place = [{ at: [60, 20] }, { at: [60, 49] }];
    const told = only(refusals(two));
    expect(told.code).toBe('copies-too-near');
    expect(told.found).toContain('open side of pocket 1 of part 1');
    two.place = [{ at: [60, 20] }, { at: [60, 56] }];
    expect(plan(two).setups).toHaveLength(1);
  });
});

describe('a notch that goes through', () => {
  const notch = (width: number, change?: RawJob) =>
    plate([{ outline: box(16, 14, 16 + width, 30), through: true }], change);

  it('is cut by the profile, with the widest cutter that enters it with its allowance', () => {
    expect(plan(notch(6)).setups[0]!.operations.some((o) => o.target.kind === 'pocket')).toBe(false);
    expect([6, 4.3, 3.6, 3.3, 2.6].map((w) => operation(notch(w), 'rough').cutter)).toEqual([1, 2, 2, 3, 3]);
  });

  it('that none enters is refused', () => {
    const told = only(refusals(notch(2.2)));
    expect(told.code).toBe('cutter-too-wide');
    expect(told.found).toContain('opening in the edge');
    expect(only(refusals(notch(3.2, { cutters: MILLS.slice(0, 2) }))).code).toBe('cutter-too-wide');
  });
});
