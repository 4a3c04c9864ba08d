import { describe, expect, it } from 'vitest';
import { checkPrograms } from '../../../src/check/check.ts';
import { segmentGap } from '../../../src/geometry/measure/distance.ts';
import { pointAt } from '../../../src/geometry/measure/segment.ts';
import type { Holding } from '../../../src/hold/holding.ts';
import type { Job } from '../../../src/part/part.ts';
import { makeMoves } from '../../../src/paths/paths.ts';
import { readPost } from '../../../src/write/post.ts';
import { writePrograms } from '../../../src/write/write.ts';
import { shippedPost } from '../../helpers.ts';
import { abilities, cutsOf, sample } from '../helpers.ts';

/** The lifting lever on a stub 6 mm wide at the left of its larger boss. */
function onStub(width = 6) {
  const made = sample('lifting-lever');
  const [place] = made.job.places;
  const stub = { part: 0, footprint: width, at: { x: place!.at.x - 6, y: place!.at.y }, directionDeg: 180, width };
  const hold = { by: 'stub', at: { x: -6, y: 0 }, directionDeg: 180, width } as const;
  const job: Job = { ...made.job, hold };
  const holding: Holding = { ...made.holding, by: 'stub', tabs: [], stubs: [stub] };
  const operations = made.plan.setups[0]!.operations.filter((o) => o.what !== 'lighten');
  const plan = { ...made.plan, setups: [{ ...made.plan.setups[0]!, operations }] };
  return { job, plan, holding, stub };
}

describe('a part on a stub', () => {
  it('keeps the waist of the stub at full height, and all else of the edge is cut', () => {
    const { job, plan, holding, stub } = onStub();
    const moves = makeMoves({ job, plan, holding, post: abilities('standard'), cautions: [] });
    if (!moves.ok) throw new Error(JSON.stringify(moves.problems));
    const post = readPost(shippedPost('standard'), 'standard');
    if (!post.ok) throw new Error('no post');
    const programs = writePrograms(moves.value, post.value, 'stub');
    expect(checkPrograms(programs, job).faults.map((f) => f.found)).toEqual([]);
    const outline = plan.setups[0]!.operations.filter((o) => o.what === 'rough' || o.what === 'finish');
    const radius = plan.cutters.find((c) => c.number === outline[0]!.cutter)!.diameter / 2;
    const near = cutsOf(programs[0]!.text).filter(
      (c) => c.tool === outline[0]!.cutter && Math.min(c.za, c.zb) < 0 && pointAt(c.path, 0.5).x < stub.at.x + 8,
    );
    const left = near.filter((c) => pointAt(c.path, 0.5).y > stub.at.y);
    const right = near.filter((c) => pointAt(c.path, 0.5).y < stub.at.y);
    expect(left.length).toBeGreaterThan(4);
    expect(right.length).toBeGreaterThan(2);
    const waist = Math.min(...left.flatMap((a) => right.map((b) => segmentGap(a.path, b.path).distance))) - 2 * radius;
    expect(waist).toBeGreaterThan(stub.width - 1e-3);
    expect(waist).toBeLessThan(stub.width + 0.01);
  });

  it('a stub as wide as the part is refused', () => {
    const { job, plan, holding } = onStub(60);
    const moves = makeMoves({ job, plan, holding, post: abilities('standard'), cautions: [] });
    expect(moves.ok ? [] : moves.problems.map((p) => p.code)).toContain('stub-no-room');
  });
});
