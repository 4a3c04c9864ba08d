import { describe, expect, it } from 'vitest';
import { toRad } from '../../../src/base/units.ts';
import { dist, dot, fromAngle, rot90, sub } from '../../../src/geometry/measure/point.ts';
import { pointAt, segmentLength } from '../../../src/geometry/measure/segment.ts';
import type { Tab } from '../../../src/hold/holding.ts';
import { makeMoves } from '../../../src/paths/paths.ts';
import { abilitiesOf, readPost } from '../../../src/write/post.ts';
import { writePrograms } from '../../../src/write/write.ts';
import { mustMake, shippedPost } from '../../helpers.ts';
import { cutsOf, sample } from '../helpers.ts';

describe('the chamfer of a part with tall tabs', () => {
  it('is lifted so that the cone never cuts into a tab, and is at full depth elsewhere', () => {
    const made = sample('lifting-lever');
    // The tabs raised to just under the top: the point, 0.7 down, would run through them.
    const tabs: Tab[] = made.holding.tabs.map((t) => ({ ...t, height: 3.8, cutHeight: 3.8 }));
    const post = readPost(shippedPost('standard'), 'standard');
    if (!post.ok) throw new Error('no post');
    const moves = makeMoves({
      job: made.job,
      plan: made.plan,
      holding: { ...made.holding, tabs },
      post: abilitiesOf(post.value),
      cautions: [],
    });
    if (!moves.ok) throw new Error(JSON.stringify(moves.problems));
    const [program] = writePrograms(moves.value, post.value, 'tall');
    const op = made.plan.setups[0]!.operations.find((o) => o.what === 'chamfer' && o.target.kind === 'edges')!;
    const span = program!.operations.find((o) => o.id === op.id)!;
    const cuts = cutsOf(program!.text).filter((c) => c.block >= span.from && c.block <= span.to);
    const top = -made.job.part.thickness + 3.8;
    let over = 0;
    for (const c of cutsOf(program!.text).filter((k) => k.block >= span.from && k.block <= span.to)) {
      const length = segmentLength(c.path);
      for (let s = 0; s <= length; s += 0.02) {
        const t = length === 0 ? 0 : s / length;
        const p = pointAt(c.path, t);
        const cone = top - (c.za + (c.zb - c.za) * t);
        if (cone <= 0) continue;
        for (const tab of tabs) {
          const out = fromAngle(toRad(tab.directionDeg));
          const d = sub(p, tab.at);
          if (dot(d, out) < 0 || dist(p, tab.at) > 6) continue;
          over++;
          // A cone of 90 degrees is as wide as it is deep: its rim at the tab's top keeps out of the waist.
          expect(Math.abs(dot(d, rot90(out))) - cone).toBeGreaterThan(tab.width / 2 - 0.02);
        }
      }
    }
    expect(over).toBeGreaterThan(50);
    expect(cuts.some((c) => c.za === op.depths[0])).toBe(true);
  });
});

describe('the chamfer of a hole smaller than the arcs that lead on', () => {
  it('comes on inside it', () => {
    const job = {
      name: 'stop plate',
      material: 'POM',
      part: {
        thickness: 1.5,
        outline: { slot: { from: [0, 0], to: [20, 0], width: 14 } },
        holes: [{ at: [10, 0], tap: 'M2.5' }],
        chamfer: 0.2,
      },
      stock: { size: [64, 40, 1.6255], above: 0.1255, measured: 1.6255 },
      place: [{ at: [22, 20] }],
      clamps: [
        { from: [0, 0], to: [8, 40], height: 12 },
        { from: [56, 0], to: [64, 40], height: 12 },
      ],
    };
    const made = mustMake(JSON.stringify(job));
    expect(made.report.faults).toEqual([]);
    // Stock above the part is touched off beside it: told in one line, which the check reads.
    expect(made.programs[0]!.text).toMatch(/\(MSG, Touch off beside .*: Z is 0\.12\d+ there\)/);
    const cone = made.plan.cutters.find((c) => c.kind === 'chamfer cutter')!.number;
    const middle = { x: 32, y: 20 };
    const low = cutsOf(made.programs[0]!.text).filter((c) => c.tool === cone && Math.min(c.za, c.zb) < 0);
    const round = low.filter((c) => dist(c.path.b, middle) < 5);
    const path = Math.max(...round.map((c) => dist(pointAt(c.path, 0.5), middle)));
    expect(round.length).toBeGreaterThan(2);
    for (const c of round) expect(dist(c.path.a, middle)).toBeLessThanOrEqual(path + 0.001);
  });
});
