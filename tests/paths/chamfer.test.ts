import { describe, expect, it } from 'vitest';
import { toRad } from '../../src/base/units.ts';
import { dist, dot, fromAngle, rot90, sub } from '../../src/geometry/measure/point.ts';
import { pointAt, segmentLength } from '../../src/geometry/measure/segment.ts';
import type { Tab } from '../../src/hold/holding.ts';
import { makeMoves } from '../../src/paths/paths.ts';
import { abilitiesOf, readPost } from '../../src/write/post.ts';
import { writePrograms } from '../../src/write/write.ts';
import { shippedPost } from '../helpers.ts';
import { cutsOf, sample } from './helpers.ts';

describe('the chamfer of a part with tall tabs', () => {
  it('is lifted so that the cone never cuts into a tab, and is at full depth elsewhere', () => {
    const made = sample('lifting-lever');
    // The tabs raised to just under the top: the point, 0.7 down, would run through them.
    const tabs: Tab[] = made.holding.tabs.map((t) => ({ ...t, height: 3.8, cutHeight: 3.8 }));
    const post = readPost(shippedPost('standard'), 'standard');
    if (!post.ok) throw new Error('no post');
    const moves = makeMoves(made.job, made.plan, { ...made.holding, tabs }, abilitiesOf(post.value), []);
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
