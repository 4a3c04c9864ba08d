/**
 * Time of the offset against clipper-lib on the same outline, flattened at the chord error for topology, in the same run;
 * and how the time grows from 10 to 10,000 edges. Ours keeps lines and arcs; the other gives polygons.
 */
import ClipperLib from 'clipper-lib';
import { bossesAndWebs } from '../../src/geometry/bosses.ts';
import { flattenLoop } from '../../src/geometry/flatten.ts';
import { loopLength, regionArea } from '../../src/geometry/measure/loop.ts';
import { offsetRegion } from '../../src/geometry/offset/offset.ts';
import { fromVertices, type OutlineVertex } from '../../src/geometry/shapes.ts';
import type { Loop, Region } from '../../src/geometry/types.ts';
import { randomRegion } from '../geometry/outlines.ts';
import { random } from '../runs.ts';
import type { Row } from './row.ts';

/** Grid of the integer engine that is compared with: 1e5 units a millimetre keeps |x| < 474 mm inside its fast range. */
const OFFSET_UNITS_PER_MM = 1e5;
/** Chord error at which arcs are handed to it. */
const TOPOLOGY_CHORD = 0.002;

export async function bench(): Promise<Row[]> {
  const draw = random(11);
  const mixed = Array.from({ length: 60 }, () => randomRegion(draw));
  return [
    against('lever of two bosses, out and in 3 mm', [lever()], [3, -3]),
    against('60 random outlines, out and in 2 mm', mixed, [2, -2]),
    against('polyline of 1,000 edges, wavy, in 3 mm', [polyline(wave, 1000)], [-3]),
    against('polyline of 1,000 edges, wavy, out 3 mm', [polyline(wave, 1000)], [3]),
    growth('wavy, in 3 mm', wave, -3),
    growth('wavy, out 3 mm', wave, 3),
    growth('rough, in 3 mm', rough, -3),
  ];
}

function against(name: string, regions: readonly Region[], distances: readonly number[]): Row {
  let answer = '';
  const ours = (): void => {
    answer = checksum(regions.flatMap((g) => distances.map((d) => ({ g, d }))));
  };
  const theirs = (): void => {
    for (const g of regions) for (const d of distances) clipper(g, d);
  };
  const value = leastTime(ours);
  const baseline = leastTime(theirs);
  return { name, value, baseline, ratio: value / baseline, unit: 'ms', limit: 2, checksum: answer };
}

/** Slope of log time over log edges, by least squares over four sizes. */
function growth(name: string, radius: (angle: number, n: number, i: number) => number, d: number): Row {
  const sizes = [10, 100, 1000, 10_000];
  let answer = '';
  const times = sizes.map((n) => {
    const g = polyline(radius, n);
    return leastTime(() => {
      answer = checksum([{ g, d }]);
    });
  });
  const x = sizes.map(Math.log);
  const y = times.map(Math.log);
  const mean = (v: readonly number[]) => v.reduce((s, w) => s + w, 0) / v.length;
  const over = x.reduce((s, v, i) => s + (v - mean(x)) * (y[i]! - mean(y)), 0);
  const value = over / x.reduce((s, v) => s + (v - mean(x)) ** 2, 0);
  return {
    name: `growth of time from 10 to 10,000 edges, ${name}`,
    value,
    unit: 'exponent',
    limit: 1.2,
    checksum: answer,
  };
}

function checksum(cases: readonly { g: Region; d: number }[]): string {
  let [area, length, pieces] = [0, 0, 0];
  for (const { g, d } of cases) {
    const o = offsetRegion(g, d);
    if (o.kind === 'failed') throw new Error(o.reason);
    for (const r of o.kind === 'regions' ? o.regions : []) {
      area += regionArea(r);
      for (const loop of [r.outer, ...r.holes]) {
        length += loopLength(loop);
        pieces += loop.length;
      }
    }
  }
  return `${area.toFixed(4)} mm2 ${length.toFixed(4)} mm ${pieces} pieces`;
}

function clipper(region: Region, d: number): void {
  const { ClipperOffset, JoinType, EndType } = ClipperLib;
  const engine = new ClipperOffset(2, (TOPOLOGY_CHORD * OFFSET_UNITS_PER_MM) / 2.25);
  for (const loop of [region.outer, ...region.holes]) {
    engine.AddPath(integers(loop), JoinType.jtRound, EndType.etClosedPolygon);
  }
  engine.Execute([], d * OFFSET_UNITS_PER_MM);
}

function integers(loop: Loop): { X: number; Y: number }[] {
  return flattenLoop(loop, TOPOLOGY_CHORD).map((p) => ({
    X: Math.round(p.x * OFFSET_UNITS_PER_MM),
    Y: Math.round(p.y * OFFSET_UNITS_PER_MM),
  }));
}

function lever(): Region {
  const made = bossesAndWebs({
    bosses: [
      { at: { x: 0, y: 0 }, radius: 12 },
      { at: { x: 60, y: 0 }, radius: 6 },
    ],
  });
  if (!made.ok) throw new Error('no lever');
  return { outer: made.value, holes: [] };
}

function polyline(radius: (angle: number, n: number, i: number) => number, n: number): Region {
  const vertices = Array.from({ length: n }, (_, i): OutlineVertex => {
    const angle = (2 * Math.PI * i) / n;
    const r = radius(angle, n, i);
    return [r * Math.cos(angle), r * Math.sin(angle)];
  });
  const made = fromVertices(vertices);
  if (!made.ok) throw new Error('no polyline');
  return { outer: made.value, holes: [] };
}

function wave(angle: number): number {
  return 30 + 3 * Math.sin(7 * angle) + Math.sin(23 * angle);
}

/** As the wave, every corner off by up to a third of an edge: far rougher than any drawing. */
function rough(angle: number, n: number, i: number): number {
  return 30 + 3 * Math.sin(7 * angle) + (random(i)() - 0.5) * (60 / n);
}

/** Least processor time of several rounds, ms: other work on the machine lengthens the clock's time, hardly this. */
function leastTime(run: () => void): number {
  run();
  run();
  let least = Infinity;
  let spent = 0;
  for (let round = 0; round < 10 && (round < 3 || spent < 500); round++) {
    const start = process.cpuUsage();
    let count = 0;
    let used = 0;
    while (used < 10) {
      run();
      count++;
      const { user, system } = process.cpuUsage(start);
      used = (user + system) / 1000;
    }
    spent += used;
    least = Math.min(least, used / count);
  }
  return least;
}
