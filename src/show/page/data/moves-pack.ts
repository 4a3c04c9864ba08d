/**
 * The moves of a program as columns of integers at 1 micrometre, the second difference of each coordinate: even steps along a
 * path become zeros. Arcs stay arcs.
 */
import { arctangent2 } from '../../../base/angles.ts';
import { ColumnReader, ColumnWriter, packColumns, unpackColumns } from './pack.ts';

/** Kind of a move in the page. `HAND`: from a place the program does not know (after a stop); drawn, never cut. */
export const RAPID = 0;
export const FEED = 1;
export const ARC_CCW = 2;
export const ARC_CW = 3;
export const TURN_CCW = 4;
export const TURN_CW = 5;
export const HAND = 6;
export const DWELL = 7;

/** Columns of equal length; positions are where each move ends, the first entry of x, y, z (index 0) where the first begins. */
export interface MoveColumns {
  readonly count: number;
  readonly kind: Uint8Array;
  readonly block: Int32Array;
  /** One longer than the rest: the start, then the end of each move. Millimetres. */
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
  /** Centre of an arc; 0 elsewhere. */
  readonly cx: Float64Array;
  readonly cy: Float64Array;
  /** Index into the program's feeds; of a dwell: its seconds in thousandths. */
  readonly feed: Int32Array;
}

export function newColumns(count: number): MoveColumns {
  return {
    count,
    kind: new Uint8Array(count),
    block: new Int32Array(count),
    x: new Float64Array(count + 1),
    y: new Float64Array(count + 1),
    z: new Float64Array(count + 1),
    cx: new Float64Array(count),
    cy: new Float64Array(count),
    feed: new Int32Array(count),
  };
}

export function isArc(kind: number): boolean {
  return kind >= ARC_CCW && kind <= TURN_CW;
}

export function packMoves(m: MoveColumns): string {
  const kind = new ColumnWriter();
  const block = new ColumnWriter();
  const feed = new ColumnWriter();
  const centre = new ColumnWriter();
  let lastBlock = 0;
  let lastFeed = 0;
  for (let i = 0; i < m.count; i++) {
    kind.byte(m.kind[i]!);
    block.signed(m.block[i]! - lastBlock);
    feed.signed(m.feed[i]! - lastFeed);
    lastBlock = m.block[i]!;
    lastFeed = m.feed[i]!;
    if (isArc(m.kind[i]!)) {
      centre.signed(micron(m.cx[i]!) - micron(m.x[i]!));
      centre.signed(micron(m.cy[i]!) - micron(m.y[i]!));
    }
  }
  const axes = [m.x, m.y, m.z].map(secondDifference);
  return packColumns([kind.done(), block.done(), feed.done(), centre.done(), ...axes]);
}

export function unpackMoves(packed: string, count: number): MoveColumns {
  const m = newColumns(count);
  const [kinds, blocks, feeds, centres, xs, ys, zs] = unpackColumns(packed).map((c) => new ColumnReader(c));
  for (const [axis, from] of [
    [m.x, xs!],
    [m.y, ys!],
    [m.z, zs!],
  ] as const)
    undoSecondDifference(from, axis);
  let block = 0;
  let feed = 0;
  for (let i = 0; i < count; i++) {
    const k = kinds!.byte();
    m.kind[i] = k;
    block += blocks!.signed();
    feed += feeds!.signed();
    m.block[i] = block;
    m.feed[i] = feed;
    if (isArc(k)) {
      m.cx[i] = (micron(m.x[i]!) + centres!.signed()) / 1000;
      m.cy[i] = (micron(m.y[i]!) + centres!.signed()) / 1000;
    }
  }
  return m;
}

function micron(mm: number): number {
  return Math.round(mm * 1000);
}

function secondDifference(values: Float64Array): Uint8Array {
  const out = new ColumnWriter();
  let last = 0;
  let step = 0;
  for (const v of values) {
    const now = micron(v);
    out.signed(now - last - step);
    step = now - last;
    last = now;
  }
  return out.done();
}

function undoSecondDifference(from: ColumnReader, into: Float64Array): void {
  let last = 0;
  let step = 0;
  for (let i = 0; i < into.length; i++) {
    step += from.signed();
    last += step;
    into[i] = last / 1000;
  }
}

/** Signed sweep of move i, radians; 0 for what is not an arc. */
export function sweepOf(m: MoveColumns, i: number): number {
  const k = m.kind[i]!;
  if (k === TURN_CCW) return 2 * Math.PI;
  if (k === TURN_CW) return -2 * Math.PI;
  if (k !== ARC_CCW && k !== ARC_CW) return 0;
  const a = arctangent2(m.y[i]! - m.cy[i]!, m.x[i]! - m.cx[i]!);
  const b = arctangent2(m.y[i + 1]! - m.cy[i]!, m.x[i + 1]! - m.cx[i]!);
  const turn = 2 * Math.PI;
  const ccw = (((b - a) % turn) + turn) % turn;
  if (k === ARC_CCW) return ccw;
  return ccw === 0 ? 0 : ccw - turn;
}
