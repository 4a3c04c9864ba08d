/** Room beyond open sides: areas in closed form, and that nothing of the part is in it. */
import { describe, expect, it } from 'vitest';
import { intersect, subtract } from '../../src/geometry/join.ts';
import { distanceToLoop } from '../../src/geometry/measure/distance.ts';
import { loopBox, regionArea } from '../../src/geometry/measure/loop.ts';
import { pointAt } from '../../src/geometry/measure/segment.ts';
import { runOut } from '../../src/geometry/mouth.ts';
import { fromVertices, type OutlineVertex, slot } from '../../src/geometry/shapes.ts';
import type { Loop, Region } from '../../src/geometry/types.ts';

function loopOf(...v: OutlineVertex[]): Loop {
  const made = fromVertices(v);
  if (!made.ok) throw new Error('no loop');
  return made.value;
}

const PLATE = loopOf([0, 0], [40, 0], [40, 30], [0, 30]);

/** What of `drawn` lies in `part`, and its room with `out` beyond it. */
function roomOf(part: Loop, drawn: Loop, out: number, end: number): { floor: Region; room: Region } {
  const both = intersect({ outer: part, holes: [] }, { outer: drawn, holes: [] });
  if (both.kind !== 'regions') throw new Error('no floor');
  const floor = both.regions[0]!;
  const onEdge = floor.outer.map((s) => distanceToLoop(part, pointAt(s, 0.5)) < 1e-7);
  const first = onEdge.findIndex((is, i) => is && !onEdge[(i + onEdge.length - 1) % onEdge.length]!);
  const n = floor.outer.length;
  const mouth = floor.outer.map((_, k) => (first + k) % n).filter((i) => onEdge[i]);
  const made = runOut(floor.outer, [mouth.map((i) => floor.outer[i]!)], part, out, end);
  if (made.kind === 'failed') throw new Error(made.reason);
  return { floor, room: made.region };
}

function areaInPart(part: Loop, room: Region): number {
  const both = intersect(room, { outer: part, holes: [] });
  return both.kind === 'regions' ? both.regions.reduce((sum, r) => sum + regionArea(r), 0) : 0;
}

describe('room beyond an open side', () => {
  it('of straight walls: a rectangle, its two far corners rounded', () => {
    const { floor, room } = roomOf(PLATE, loopOf([10, 20], [18, 20], [18, 31], [10, 31]), 7, 3);
    expect(regionArea(floor)).toBeCloseTo(80, 9);
    // A rounded corner leaves out r^2 (1 - pi/4).
    expect(regionArea(room)).toBeCloseTo(80 + 56 - 2 * 9 * (1 - Math.PI / 4), 9);
    expect(loopBox(room.outer).maxY).toBeCloseTo(37, 9);
  });

  it('no corner is rounded by more than half the width', () => {
    const { room } = roomOf(PLATE, loopOf([10, 20], [14, 20], [14, 31], [10, 31]), 7, 3);
    const r = 0.98 * 2;
    expect(regionArea(room)).toBeCloseTo(40 + 28 - 2 * r * r * (1 - Math.PI / 4), 9);
  });

  it('walls that spread are followed; walls that close go straight on', () => {
    const spread = roomOf(PLATE, loopOf([12, 20], [16, 20], [20, 40], [8, 40]), 5, 0.5).room;
    // Five up, one aside: at 35 the walls are 3 further out each side than at 20.
    expect(loopBox(spread.outer).maxX - loopBox(spread.outer).minX).toBeGreaterThan(8 + 1);
    const closing = roomOf(PLATE, loopOf([8, 20], [20, 20], [16, 40], [12, 40]), 5, 0.5).room;
    const above = subtract(closing, [{ outer: PLATE, holes: [] }]);
    if (above.kind !== 'regions') throw new Error('no room');
    const box = loopBox(above.regions[0]!.outer);
    expect(box.maxX - box.minX).toBeCloseTo(8, 9);
  });

  it('round a corner, over a round end and in a hollow nothing of the part is in it, and the floor all is', () => {
    const round = slot({ x: 10, y: 15 }, { x: 30, y: 15 }, 16);
    const bar = slot({ x: 25, y: 15 }, { x: 60, y: 18 }, 5);
    if (!round.ok || !bar.ok) throw new Error('no slot');
    const hollow = loopOf([0, 0], [40, 0], [40, 30], [30, 30, 0.5], [10, 30], [0, 30]);
    for (const [part, drawn] of [
      [PLATE, loopOf([30, 20], [50, 20], [50, 50], [30, 50])],
      [round.value, bar.value],
      [hollow, loopOf([17, 10], [23, 10], [23, 40], [17, 40])],
    ] as const) {
      const { floor, room } = roomOf(part, drawn, 6, 3);
      expect(room.holes).toEqual([]);
      expect(areaInPart(part, room)).toBeCloseTo(regionArea(floor), 6);
      expect(regionArea(room) - regionArea(floor)).toBeGreaterThan(20);
    }
  });
});
