/** Speed of the check: exact gouge of a long program, and flat moves a second through the height field. */

import { checkPrograms } from '../../src/check/check.ts';
import { Gauge } from '../../src/check/exact/gouge.ts';
import { type Stroke, toolOf } from '../../src/check/strokes/stroke.ts';
import { wantedOf } from '../../src/check/wanted/wanted.ts';
import { loopLength, pointAlong } from '../../src/geometry/measure/loop.ts';
import { line, segmentBox } from '../../src/geometry/measure/segment.ts';
import type { Point } from '../../src/geometry/types.ts';
import { Sweeper } from '../../src/stock/cutter.ts';
import { fieldOf, volumeOf } from '../../src/stock/field.ts';
import { AT, cutter, hullLoop, leverJob, leverProgram } from '../check/lever.ts';

export interface Row {
  readonly name: string;
  readonly value: number;
  readonly unit: string;
  readonly baseline?: number;
  readonly ratio?: number;
  readonly limit?: number;
  readonly checksum: string;
}

const BLOCKS = 20_000;

export async function bench(): Promise<Row[]> {
  return [gougeRow(), fieldRow(), wholeRow()];
}

function gougeRow(): Row {
  const wanted = wantedOf(leverJob());
  const tool = toolOf(cutter(1, 'end mill', 3));
  const strokes = chords(BLOCKS, 1.5).map(([a, b]): Stroke => {
    const path = line(a, b);
    const state = { feed: 100, speed: 1000, turning: true, cycle: null, step: null };
    const rest = { index: 0, program: 0, block: 1, rapid: false, ...state };
    return { ...rest, path, box: segmentBox(path), za: -4.1, zb: -4.1, low: -4.1, tool };
  });
  let hits = 0;
  const seconds = best(() => {
    const gauge = new Gauge(wanted);
    hits = strokes.filter((s) => gauge.hit(s, wanted.parts[0]!) !== undefined).length;
  });
  return { name: `exact gouge, ${BLOCKS} blocks`, value: seconds, unit: 's', limit: 1, checksum: `${hits} gouges` };
}

function fieldRow(): Row {
  const shape = toolOf(cutter(1, 'end mill', 6)).shape;
  const moves = chords(BLOCKS, 3);
  let left = 0;
  const seconds = best(() => {
    const sweeper = new Sweeper(fieldOf([0, 0], [60, 40], -4, 0, 0.1));
    for (const [i, [a, b]] of moves.entries()) {
      const z = -1 - Math.floor((4 * i) / moves.length);
      sweeper.cut(line(a, b), z, z, shape);
    }
    left = volumeOf(sweeper.field);
  });
  return {
    // 200 000 flat moves a second is 1 s for as many.
    name: 'field, 600 x 400 cells, 200 000 flat moves',
    value: (200_000 * seconds) / BLOCKS,
    unit: 's',
    limit: 1,
    checksum: left.toFixed(3),
  };
}

function wholeRow(): Row {
  const text = leverProgram();
  const job = leverJob();
  let faults = 0;
  const seconds = best(() => {
    faults = checkPrograms([{ file: 'lever.ngc', text }], job).faults.length;
  });
  return { name: 'whole check of a hand-made lever', value: seconds, unit: 's', checksum: `${faults} faults` };
}

/** The lever's edge moved out by a radius, in short chords, round and round. */
function chords(count: number, radius: number): [Point, Point][] {
  const loop = hullLoop(radius + 0.001);
  const total = loopLength(loop);
  const at = (i: number): Point => {
    const p = pointAlong(loop, (((i * 0.1) % total) + total) % total)!.point;
    return { x: p.x + AT.x, y: p.y + AT.y };
  };
  return Array.from({ length: count }, (_, i) => [at(i), at(i + 1)]);
}

function best(run: () => void): number {
  let least = Infinity;
  for (let i = 0; i < 5; i++) {
    const start = performance.now();
    run();
    least = Math.min(least, (performance.now() - start) / 1000);
  }
  return least;
}
