/** Holding on a stub: what stands against one, and one all the way to plan file and sheet. */
import { describe, expect, it } from 'vitest';
import { holdScene } from '../../../src/hold/scene/scene.ts';
import { stubWay } from '../../../src/hold/ways/stub-way.ts';
import { makePlan } from '../../../src/plan/make-plan.ts';
import { planFile } from '../../../src/show/plan-file.ts';
import { setupSheet } from '../../../src/show/sheet/sheet.ts';
import { mustMake } from '../../helpers.ts';
import { CUTTERS, inputOf, jobOf, lever } from '../scenes.ts';

type Loose = ReturnType<typeof JSON.parse>;

function outcome(hold: object, change: (j: Loose) => void = () => undefined) {
  const raw = JSON.parse(lever({ hold: { by: 'stub', ...hold } }));
  change(raw);
  const job = jobOf(JSON.stringify(raw));
  const plan = makePlan(job);
  if (!plan.ok || job.hold.by !== 'stub') throw new Error('no plan');
  return stubWay(holdScene(inputOf(job, plan.value)), job.hold);
}

describe('what stands against a stub', () => {
  it.each<[string, object, string, (j: Loose) => void]>([
    [
      'a bore close behind it',
      { at: 0, direction: 180, width: 4 },
      'stub-on-bore',
      (j) => (j.part.holes[0] = { at: [-2.4, 0], ream: 5 }),
    ],
    [
      'a clamp where it is sawn',
      { at: 0, direction: 180, width: 4 },
      'stub-under-clamp',
      (j) => (j.clamps[0].to = [12.4, 30]),
    ],
    [
      'stock that ends beside the slot',
      { at: 0, direction: 90, width: 4 },
      'stub-no-frame',
      (j) => (j.stock.size = [75, 25, 4]),
    ],
    [
      'a hollow of the edge',
      { at: [16, 5], direction: 90, width: 4 },
      'stub-in-hollow',
      (j) => {
        j.part.outline.bosses = [
          { at: [0, 0], radius: 6 },
          { at: [16, -3], radius: 4 },
          { at: [32, 0], radius: 4 },
        ];
        j.part.outline.webs = [
          [0, 1],
          [1, 2],
        ];
        j.part.outline.fillet = 6;
        j.hold.at = [16, 1.01];
      },
    ],
    [
      'a neighbour whose slot runs where it would be rooted',
      { at: 0, direction: 90, width: 6 },
      'stub-no-frame',
      (j) => {
        j.stock.size = [75, 60, 4];
        j.place = [{ at: [22, 15] }, { at: [22, 34] }];
      },
    ],
  ])('%s', (_, hold, code, change) => {
    const out = outcome(hold, change);
    expect(out.kind === 'unusable' ? `${out.code} ${out.why}` : 'may be used').toMatch(new RegExp(`^${code} `));
  });

  it('nothing: it may be used, and says how it is cleaned up', () => {
    const out = outcome({ at: 0, direction: 180, width: 6 });
    expect(out.kind).toBe('way');
    expect(out.kind === 'way' ? out.reasons.join(' ') : '').toContain('sawn');
  });
});

describe('a lever on its stub', () => {
  const made = mustMake(
    lever({
      hold: { by: 'stub', at: 0, direction: 180, width: 8 },
      cutters: CUTTERS.map((c) => (c.number === 1 ? c : { ...c, stickOut: 45 })),
    }),
  );

  it('is released, and the program states the stub', () => {
    expect(made.report.faults).toEqual([]);
    expect(made.programs[0]!.text).toMatch(
      /^\(HOLD stub PART 1 AT X16 Y15 DIRECTION -?180 WIDTH 8 FOOTPRINT [\d.]+\)$/m,
    );
    expect(made.report.proven.map((p) => p.what)).toContain('stubs');
    expect(made.course.margin!.least).toBeGreaterThan(1);
  });

  it('plan file and sheet tell of it', () => {
    const plan = JSON.parse(JSON.stringify(planFile(made)));
    const { hold } = plan.setups[0];
    expect(hold).toMatchObject({ by: 'stub', tabs: [], stub: { at: [16, 15], width: 8 }, stubs: [{ part: 0 }] });
    expect(Math.abs(hold.stub.direction)).toBe(180);
    expect(hold.stub.footprint).toBeGreaterThan(9);
    const sheet = setupSheet(made);
    expect(sheet).toContain('saw the stub through');
    expect(sheet).toMatch(/held by a stub 8(\.0*)? mm wide and as thick as the plate/);
  });
});
