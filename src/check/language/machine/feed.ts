/** The feed of a move, whichever way it is stated. */
import { F, type ProgramBlock } from '../text/block.ts';
import type { Interpreter } from './machine.ts';

/** mm/min over a path of that length: F itself, or in inverse time the length times F. */
export function feedAlong(m: Interpreter, b: ProgramBlock, length: number): number {
  return m.state.inverse ? length * b.value[F]! : m.state.feed * m.state.unit;
}
