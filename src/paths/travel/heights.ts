/** The levels the cutter moves at, program coordinates. */
import type { Mm } from '../../base/units.ts';
import type { Job } from '../../part/part.ts';

/** Room over the highest thing for moves that cross the table (common practice: a few millimetres, seen by eye). */
export const OVER_CLAMPS: Mm = 5;
/** Room over the stock for moves near the work. */
const OVER_STOCK: Mm = 2;
/** Feed begins this far above the stock: room for a plate that is not flat. */
const FEED_FROM: Mm = 1;
/** Head room for changing a cutter or measuring by hand. */
const HEAD_ROOM: Mm = 30;

export interface Heights {
  readonly stockTop: Mm;
  /** Above clamps and stock: any sideways rapid is free here. */
  readonly clearance: Mm;
  /** Above the stock: sideways rapids that cross no clamp. */
  readonly retract: Mm;
  /** Rapid down to here over uncut stock. */
  readonly feedFrom: Mm;
  /** For stops and cutter changes. */
  readonly change: Mm;
}

/** `fitted`: tops of what is fitted during the program, such as screw heads. */
export function heightsOf(job: Job, fitted: readonly Mm[] = []): Heights {
  const stockTop = job.stock.max[2];
  const tops = job.clamps.map((c) => (c.kind === 'block' ? c.top : stockTop));
  const clearance = Math.max(stockTop, ...tops, ...fitted) + OVER_CLAMPS;
  return {
    stockTop,
    clearance,
    retract: stockTop + OVER_STOCK,
    feedFrom: stockTop + Math.max(FEED_FROM, job.stock.flatness + FEED_FROM / 2),
    change: Math.min(clearance + HEAD_ROOM, Math.max(clearance, job.stock.min[2] + job.machine.travel[2])),
  };
}
