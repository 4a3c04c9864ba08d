/** From axis words to the absolute point that they mean. */
import { type ProgramBlock, X, Y, Z } from '../text/block.ts';
import type { Interpreter } from './machine.ts';

const out = new Float64Array(3);

/**
 * Absolute x y z of the block's axis words; omitted axes keep their value. While compensation is on, the programmed point
 * counts and not the cutter's centre (reference interpreter). The array is reused by the next call.
 */
export function target(m: Interpreter, b: ProgramBlock): Float64Array {
  const s = m.state;
  const comp = s.compensation;
  const onPath = comp !== null && !comp.first;
  out[0] = axis(m, b, X, 0, onPath ? comp.x : s.at[0]!);
  out[1] = axis(m, b, Y, 1, onPath ? comp.y : s.at[1]!);
  out[2] = axis(m, b, Z, 2, s.at[2]!);
  return out;
}

function axis(m: Interpreter, b: ProgramBlock, letter: number, i: number, now: number): number {
  if ((b.has & (1 << letter)) === 0) return now;
  const s = m.state;
  const v = b.value[letter]! * s.unit;
  return s.absolute ? v + s.origin[i]! + s.shift[i]! : now + v;
}
