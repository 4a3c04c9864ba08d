/**
 * 200 random levers through the whole flow. The judge is not the check: it walks the program's own moves (as read back) and
 * measures with distances to the outline only.
 */
import { describe, expect, it } from 'vitest';
import type { CanonicalMove } from '../../src/check/language/canonical.ts';
import { readProgram } from '../../src/check/language/read.ts';
import { RegionEdge } from '../../src/geometry/measure/approach.ts';
import { SegmentIndex } from '../../src/geometry/measure/index.ts';
import { loopLength, pointAlong } from '../../src/geometry/measure/loop.ts';
import { dist } from '../../src/geometry/measure/point.ts';
import { arc, line } from '../../src/geometry/measure/segment.ts';
import { placeLoop } from '../../src/geometry/measure/transform.ts';
import type { Segment } from '../../src/geometry/types.ts';
import type { Made } from '../../src/job.ts';
import { mustMake } from '../helpers.ts';
import { FULL, runs, SEED } from '../runs.ts';
import { randomLever } from './random-lever.ts';
import { throughDrawing } from './through-drawing.ts';

const FORMATS = ['dxf', 'svg'] as const;

interface Cut {
  readonly path: Segment;
  readonly low: number;
  readonly high: number;
}

/** Sideways feed moves of the outline's cutter, in the plane. */
function cutsOf(made: Made): Cut[] {
  const profile = made.plan.setups[0]!.operations.find((o) => o.what === 'finish')!.cutter;
  const moves = made.programs.flatMap((p) => readProgram(p.text).moves);
  return moves.filter((m) => m.tool === profile).flatMap(cutOf);
}

function cutOf(m: CanonicalMove): Cut[] {
  if (m.kind !== 'feed' && m.kind !== 'arc') return [];
  const { x: ax, y: ay, z: az } = m.from;
  const { x: bx, y: by, z: bz } = m.to;
  if (ax === null || ay === null || az === null || bx === null || by === null || bz === null) return [];
  const a = { x: ax, y: ay };
  const b = { x: bx, y: by };
  const levels = { low: Math.min(az, bz), high: Math.max(az, bz) };
  if (m.kind !== 'arc') return [{ path: line(a, b), ...levels }];
  const { x, y } = m.centre;
  const centre = { x, y };
  const start = Math.atan2(a.y - y, a.x - x);
  return [{ path: { ...arc(centre, dist(a, centre), start, m.sweep), a, b }, ...levels }];
}

/** A stroke that is repeated at several depths is the same in the plane. */
function once(cuts: readonly Cut[]): Segment[] {
  return [...new Map(cuts.map((c) => [JSON.stringify(c.path), c.path])).values()];
}

function judge(made: Made): { gouge: number; uncut: number } {
  const outline = placeLoop(made.job.places[0]!, made.job.part.outline.loop);
  const edge = new RegionEdge({ outer: outline, holes: [] });
  const finish = made.plan.setups[0]!.operations.find((o) => o.what === 'finish')!;
  const radius = made.plan.cutters.find((c) => c.number === finish.cutter)!.diameter / 2;
  const cuts = cutsOf(made);
  const below = cuts.filter((c) => c.low < 0);
  const gouge = Math.max(0, ...once(below).map((path) => radius - edge.closestApproach(path).distance));
  const bottom = -made.job.part.thickness + 0.001;
  const full = new SegmentIndex(once(cuts.filter((c) => c.high <= bottom)));
  const length = loopLength(outline);
  const corner = [...made.report.notes, ...made.told].some((n) => n.code === 'corner-left-round' && n.place.at);
  let uncut = 0;
  for (let s = 0; s < length && !corner; s += 0.05) {
    const at = pointAlong(outline, s)!.point;
    const byTab = made.holding.tabs.some((t) => dist(t.at, at) <= t.footprint / 2 + 2);
    if (!byTab) uncut = Math.max(uncut, full.nearest(at)!.distance - radius);
  }
  return { gouge, uncut };
}

describe('random levers', () => {
  const count = runs(200);
  const worst = { gouge: 0, uncut: 0 };
  let made = 0;

  it(`${count} of them are made, none refused, none with a fault`, () => {
    for (let i = 0; i < count; i++) {
      const lever = randomLever(SEED + i);
      const result = mustMake(lever.text);
      expect(
        result.report.faults.map((f) => f.found),
        `seed ${lever.seed}`,
      ).toEqual([]);
      const found = judge(result);
      worst.gouge = Math.max(worst.gouge, found.gouge);
      worst.uncut = Math.max(worst.uncut, found.uncut);
      made++;
    }
    expect(made).toBe(count);
    console.log(`levers: worst gouge ${worst.gouge.toFixed(5)} mm, worst uncut edge ${worst.uncut.toFixed(5)} mm`);
  }, 1_800_000);

  it('gouge stays within 0.005 mm and uncut edge within 0.010 mm', () => {
    expect(made).toBe(count);
    expect(worst.gouge).toBeLessThanOrEqual(0.005);
    expect(worst.uncut).toBeLessThanOrEqual(0.01);
  });

  it('and give the same program with their outline from a drawing', () => {
    let seen = 0;
    for (let i = 0; i < runs(40); i++) {
      const lever = randomLever(SEED + i);
      const first = mustMake(lever.text);
      // One of the formats by turns; both with `LAWS=full`.
      for (const format of FULL ? FORMATS : [FORMATS[i % 2]!]) {
        expect(throughDrawing(lever.text, first, format), `seed ${lever.seed}, ${format}`).toEqual(
          first.programs.map((p) => p.text),
        );
        seen++;
      }
    }
    expect(seen).toBe((FULL ? 2 : 1) * runs(40));
  }, 1_800_000);
});
