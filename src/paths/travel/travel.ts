/** Whether the moves of a program stay within the machine's travel. */
import { fault, type Problem } from '../../base/problem.ts';
import type { Mm } from '../../base/units.ts';
import { angleOf, dist, sub } from '../../geometry/measure/point.ts';
import { arc, segmentBox } from '../../geometry/measure/segment.ts';
import type { Point } from '../../geometry/types.ts';
import { coordText, sizeText } from '../head.ts';
import type { Move } from '../moves.ts';
import type { Scene } from '../scene.ts';

/** Least and greatest coordinate of each axis. */
export type TravelEnvelope = readonly (readonly [Mm, Mm])[];

/** A travel given as a round figure is not refused for rounding in the last written digit. */
const ROUNDING: Mm = 1e-3;

/** One fault for each axis on which the programs, run from one zero, reach further than the machine moves. */
export function beyondTravel(scene: Scene, programs: readonly (readonly Move[])[]): readonly Problem[] {
  const envelope = envelopeOf(programs);
  return envelope.flatMap(([least, most], i) => {
    const room = scene.job.machine.travel[i]!;
    if (!(most - least > room + ROUNDING)) return [];
    const axis = 'XYZ'[i]!;
    const span = `from ${coordText(scene, least)} to ${coordText(scene, most)}`;
    return [
      fault({
        code: 'off-travel',
        at: { path: 'machine.travel' },
        found: `the cutter moves ${sizeText(scene, most - least)} along ${axis}, ${span}`,
        wanted: `at most ${sizeText(scene, room)}, the travel of the machine`,
        remedy:
          i === 2 ? 'use lower clamps or shorter cutters' : 'turn the part, take fewer copies, or move the clamps in',
      }),
    ];
  });
}

/** Axes that never move have least above most. */
export function envelopeOf(programs: readonly (readonly Move[])[]): TravelEnvelope {
  const reach = [0, 1, 2].map(() => [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY] as [Mm, Mm]);
  const take = (i: number, v: Mm | undefined) => {
    if (v === undefined) return;
    reach[i]![0] = Math.min(reach[i]![0], v);
    reach[i]![1] = Math.max(reach[i]![1], v);
  };
  for (const moves of programs) {
    let at: Partial<Point> = {};
    for (const move of moves) {
      for (const p of placesOf(move, at)) {
        take(0, p.x);
        take(1, p.y);
        take(2, p.z);
      }
      at = { ...at, ...endOf(move) };
    }
  }
  return reach;
}

interface AxisPlaces {
  readonly x?: Mm | undefined;
  readonly y?: Mm | undefined;
  readonly z?: Mm | undefined;
}

function placesOf(move: Move, at: Partial<Point>): readonly AxisPlaces[] {
  switch (move.kind) {
    case 'rapid':
    case 'feed':
      return [move];
    case 'arc': {
      if (at.x === undefined || at.y === undefined) return [move];
      const box = segmentBox(turnOf(move, { x: at.x, y: at.y }));
      return [
        { x: box.minX, y: box.minY, z: move.z },
        { x: box.maxX, y: box.maxY },
      ];
    }
    case 'cycle':
      return [...move.places, { z: move.retract }, { z: move.bottom }];
    default:
      return [];
  }
}

function turnOf(move: Extract<Move, { kind: 'arc' }>, from: Point) {
  const start = angleOf(sub(from, move.centre));
  let sweep = angleOf(sub(move, move.centre)) - start;
  if (move.counterClockwise && sweep <= 1e-12) sweep += 2 * Math.PI;
  if (!move.counterClockwise && sweep >= -1e-12) sweep -= 2 * Math.PI;
  return arc(move.centre, dist(from, move.centre), start, sweep);
}

function endOf(move: Move): Partial<Point> {
  switch (move.kind) {
    case 'rapid':
    case 'feed':
      return { ...(move.x === undefined ? {} : { x: move.x }), ...(move.y === undefined ? {} : { y: move.y }) };
    case 'arc':
      return { x: move.x, y: move.y };
    case 'cycle':
      return move.places[move.places.length - 1] ?? {};
    default:
      return {};
  }
}
