/**
 * Room between everything that turns with a cutter and the clamps. Where there is none the job is refused with the place and the room
 * that is wanted, before any text is written.
 */
import { fault, type Problem } from '../../base/problem.ts';
import type { Mm } from '../../base/units.ts';
import { segmentGap } from '../../geometry/measure/distance.ts';
import { angleOf, dist, sub } from '../../geometry/measure/point.ts';
import { arc, line, segmentBox } from '../../geometry/measure/segment.ts';
import type { Box, Line, Point, Segment } from '../../geometry/types.ts';
import type { Cutter } from '../../part/part.ts';
import { coordText, sizeText } from '../head.ts';
import type { Move } from '../moves.ts';
import type { Scene } from '../scene.ts';

/** Air kept round a clamp, which is set by hand (common practice; the check has its own copy). */
export const CLAMP_AIR: Mm = 0.5;
/** Written positions are rounded. */
const ROUNDING: Mm = 1e-4;

/** What turns with a cutter, each with the height of its lower end above the tip. */
interface TurningBody {
  readonly name: string;
  readonly radius: Mm;
  readonly from: Mm;
}

export function bodiesOf(c: Cutter): readonly TurningBody[] {
  return [
    { name: 'cutter', radius: c.diameter / 2, from: 0 },
    { name: 'shank', radius: c.shank / 2, from: c.fluteLength },
    { name: 'holder', radius: c.holder.diameter / 2, from: c.stickOut },
  ];
}

interface ClampBlock {
  readonly index: number;
  readonly box: Box;
  readonly sides: readonly Line[];
  readonly top: Mm;
}

function blocksOf(scene: Scene): readonly ClampBlock[] {
  return scene.job.clamps.flatMap((c, index) => {
    if (c.kind !== 'block') return [];
    const box = { minX: c.min[0], minY: c.min[1], maxX: c.max[0], maxY: c.max[1] };
    const corners = [
      { x: box.minX, y: box.minY },
      { x: box.maxX, y: box.minY },
      { x: box.maxX, y: box.maxY },
      { x: box.minX, y: box.maxY },
    ];
    return [{ index, box, sides: corners.map((a, i) => line(a, corners[(i + 1) % 4]!) as Line), top: c.top }];
  });
}

/** How much room a way of the cutter's axis lacks beside a clamp when it runs as low as `low`; 0 or less: none. */
function lackBeside(cutter: Cutter, way: Segment, low: Mm, block: ClampBlock): Lack | null {
  let worst: Lack | null = null;
  for (const body of bodiesOf(cutter)) {
    if (low + body.from >= block.top + CLAMP_AIR - ROUNDING) continue;
    const reach = body.radius + CLAMP_AIR;
    if (!isNear(segmentBox(way), block.box, reach)) continue;
    const { distance, at } = gapTo(way, block);
    const lack = reach - distance;
    if (lack > ROUNDING && (worst === null || lack > worst.lack)) worst = { body, lack, at };
  }
  return worst;
}

interface Lack {
  readonly body: TurningBody;
  readonly lack: Mm;
  /** Where the axis is then. */
  readonly at: Point;
}

function gapTo(way: Segment, { box, sides }: ClampBlock): { readonly distance: Mm; readonly at: Point } {
  const { a } = way;
  if (a.x >= box.minX && a.x <= box.maxX && a.y >= box.minY && a.y <= box.maxY) return { distance: 0, at: a };
  const gaps = sides.map((side) => segmentGap(side, way));
  const least = gaps.reduce((x, y) => (y.distance < x.distance ? y : x));
  return { distance: least.distance, at: least.q };
}

function isNear(a: Box, b: Box, by: Mm): boolean {
  return a.minX <= b.maxX + by && a.maxX >= b.minX - by && a.minY <= b.maxY + by && a.maxY >= b.minY - by;
}

/** Whether a cutter may run along a way at a height: neither it nor its shank nor its holder comes near a clamp. */
export function isClearOfClamps(scene: Scene, cutter: Cutter, way: readonly Segment[], low: Mm): boolean {
  return blocksOf(scene).every((block) => way.every((s) => lackBeside(cutter, s, low, block) === null));
}

interface WorstLack extends Lack {
  readonly operation: string;
  readonly cutter: Cutter;
  readonly block: ClampBlock;
  readonly low: Mm;
}

/** One fault for each clamp: the move with the least room. */
export function clampsClear(scene: Scene, programs: readonly (readonly Move[])[]): readonly Problem[] {
  const blocks = blocksOf(scene);
  if (blocks.length === 0) return [];
  const found = new Map<number, WorstLack>();
  for (const moves of programs) {
    const state: { operation: string; cutter: Cutter | null; x?: Mm; y?: Mm; z?: Mm } = { operation: '', cutter: null };
    for (const move of moves) {
      if (move.kind === 'change') state.cutter = scene.plan.cutters.find((c) => c.number === move.cutter) ?? null;
      if (move.kind === 'operation') state.operation = move.title;
      for (const { way, low } of waysOf(move, state)) {
        if (state.cutter === null) continue;
        for (const block of blocks) {
          const lack = lackBeside(state.cutter, way, low, block);
          if (lack === null) continue;
          const known = found.get(block.index);
          if (known && known.lack >= lack.lack) continue;
          found.set(block.index, { operation: state.operation, cutter: state.cutter, block, ...lack, low });
        }
      }
    }
  }
  return [...found.values()].map((w) => clampInWay(scene, w));
}

function clampInWay(scene: Scene, { operation, cutter, block, body, lack, at, low }: WorstLack): Problem {
  const more = sizeText(scene, Math.ceil(lack * 100) / 100);
  return fault({
    code: 'clamp-in-way',
    at: { path: `clamps[${block.index}]`, at: [at.x, at.y] },
    found: `${body.name === 'cutter' ? '' : `the ${body.name} of `}cutter ${cutter.number} passes clamp ${block.index + 1} at X ${coordText(scene, at.x)} Y ${coordText(scene, at.y)}, "${operation}"`,
    wanted: `${sizeText(scene, CLAMP_AIR)} of air beside the clamp: ${more} more room`,
    remedy: `move the clamp away from there by ${more} or more, ${otherWay(scene, body, low)}`,
  });
}

function otherWay(scene: Scene, body: TurningBody, low: Mm): string {
  if (body.name === 'cutter') return 'or turn or move the part';
  const longer = body.name === 'shank' ? 'use a cutter with longer flutes' : 'let the cutter stand out further';
  const height = Math.floor((low + body.from - CLAMP_AIR - scene.heights.stockTop) * 10) / 10;
  return height < LEAST_CLAMP ? `or ${longer}` : `take a clamp no higher than ${sizeText(scene, height)}, or ${longer}`;
}

/** No clamp is lower than this over the stock. */
const LEAST_CLAMP: Mm = 2;

type LastPosition = { x?: Mm; y?: Mm; z?: Mm };

interface MovePath {
  readonly way: Segment;
  readonly low: Mm;
}

/** Ways of a move whose ends are known, each with its lowest point; the state moves on. */
function waysOf(move: Move, s: LastPosition): readonly MovePath[] {
  if (move.kind === 'stop' || move.kind === 'change') {
    delete s.x;
    delete s.y;
    delete s.z;
    return [];
  }
  if (move.kind === 'cycle') {
    const ways = move.places.map((p, i) => {
      const from = i === 0 ? { x: s.x ?? p.x, y: s.y ?? p.y } : move.places[i - 1]!;
      return [
        { way: line(from, p), low: move.retract },
        { way: line(p, p), low: move.bottom },
      ];
    });
    const last = move.places[move.places.length - 1]!;
    Object.assign(s, { x: last.x, y: last.y, z: move.retract });
    return ways.flat();
  }
  if (move.kind !== 'rapid' && move.kind !== 'feed' && move.kind !== 'arc') return [];
  const before = { ...s };
  for (const key of ['x', 'y', 'z'] as const) if (move[key] !== undefined) s[key] = move[key];
  const { x, y, z } = s;
  if (x === undefined || y === undefined || z === undefined) return [];
  const from = { x: before.x ?? x, y: before.y ?? y };
  const low = Math.min(before.z ?? z, z);
  if (move.kind !== 'arc') return [{ way: line(from, { x, y }), low }];
  const start = angleOf(sub(from, move.centre));
  let sweep = angleOf(sub({ x, y }, move.centre)) - start;
  if (move.counterClockwise && sweep <= 1e-12) sweep += 2 * Math.PI;
  if (!move.counterClockwise && sweep >= -1e-12) sweep -= 2 * Math.PI;
  return [{ way: arc(move.centre, dist(from, move.centre), start, sweep), low }];
}
