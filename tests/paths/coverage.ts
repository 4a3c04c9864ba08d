/** Area of a pocket's floor that a cutter could reach and the program did not: on a fine grid, each point judged by exact distances. */
import { RegionEdge } from '../../src/geometry/measure/approach.ts';
import { loopBox } from '../../src/geometry/measure/loop.ts';
import { nearestOn, segmentBox } from '../../src/geometry/measure/segment.ts';
import { offsetRegion } from '../../src/geometry/offset/offset.ts';
import type { Region } from '../../src/geometry/types.ts';
import type { Cut } from './helpers.ts';

/** Points this near the limit of the cutter's reach belong to the edge, whose tests are finer. */
const RIM = 0.005;

export interface Coverage {
  readonly points: number;
  readonly uncut: number;
}

export function floorCoverage(
  pocket: Region,
  cuts: readonly Cut[],
  radius: number,
  floor: number,
  step: number,
  before: { readonly cuts: readonly Cut[]; readonly radius: number } | null = null,
): Coverage {
  const inner = offsetRegion(pocket, -(radius - RIM / 5));
  if (inner.kind !== 'regions') return { points: 0, uncut: 0 };
  const reach = inner.regions.map((r) => new RegionEdge(r));
  const box = loopBox(pocket.outer);
  const columns = Math.ceil((box.maxX - box.minX) / step);
  const rows = Math.ceil((box.maxY - box.minY) / step);
  const at = (i: number, j: number) => ({ x: box.minX + (i + 0.5) * step, y: box.minY + (j + 0.5) * step });
  const swept = new Uint8Array(columns * rows);
  const all = [...(before?.cuts ?? []).map((c) => ({ c, r: before!.radius })), ...cuts.map((c) => ({ c, r: radius }))];
  for (const { c, r } of all) {
    if (Math.max(c.za, c.zb) > floor + 1e-6) continue;
    const b = segmentBox(c.path);
    const [i0, i1] = [b.minX - r - box.minX, b.maxX + r - box.minX].map((v) => Math.round(v / step));
    const [j0, j1] = [b.minY - r - box.minY, b.maxY + r - box.minY].map((v) => Math.round(v / step));
    for (let i = Math.max(0, i0!); i < Math.min(columns, i1!); i++) {
      for (let j = Math.max(0, j0!); j < Math.min(rows, j1!); j++) {
        if (swept[i * rows + j] === 0 && nearestOn(c.path, at(i, j)).distance <= r) swept[i * rows + j] = 1;
      }
    }
  }
  let points = 0;
  let uncut = 0;
  for (let k = 0; k < swept.length; k++) {
    // Only what no stroke passed over needs the slower question.
    const lost =
      swept[k] === 0 && reach.some((e) => e.signedDistance(at(Math.floor(k / rows), k % rows)) < radius - RIM);
    if (lost) uncut++;
    if (lost || swept[k] === 1) points++;
  }
  return { points, uncut };
}
