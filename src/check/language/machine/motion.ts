/** Motion codes: straight moves, G53, probing; arcs and cycles are handed on (report, 3.5.1 to 3.5.3, 3.5.9, 3.5.12). */

import type { BlockCodes } from '../plan.ts';
import { A, AXES, F, given, LINEAR, type ProgramBlock, X } from '../text/block.ts';
import { arc } from './arc.ts';
import { compensatedLine } from './compensated.ts';
import { cycle } from './cycle.ts';
import { feedAlong } from './feed.ts';
import { caution, emitStraight, type Interpreter, refuse } from './machine.ts';
import { warnStored } from './offsets.ts';
import { target } from './target.ts';

/** Least length of a probe move (report, 3.5.9.1). */
const PROBE_LEAST_MM = 0.254;

export function move(m: Interpreter, b: ProgramBlock, p: BlockCodes): boolean {
  const s = m.state;
  if (p.group[0] === 530) return machineMove(m, b, p);
  switch (p.motion) {
    case 0:
      return rapid(m, b);
    case 10:
      return feed(m, b, p);
    case 20:
    case 30:
      return feedStated(m, b, p) && arc(m, b, p);
    case 382:
      return s.compensation !== null ? refuse(m, 74, p.motionColumn) : probe(m, b, p);
    default:
      return cycle(m, b, p);
  }
}

function rapid(m: Interpreter, b: ProgramBlock): boolean {
  const t = target(m, b);
  if ((b.has & ~LINEAR & AXES) !== 0) turnRotary(m, b);
  if (m.state.compensation !== null) return compensatedLine(m, b, 'rapid', t);
  emitStraight(m, 'rapid', t[0]!, t[1]!, t[2]!, Number.NaN, null);
  return true;
}

function feed(m: Interpreter, b: ProgramBlock, p: BlockCodes): boolean {
  if (!feedStated(m, b, p)) return false;
  const t = target(m, b);
  if ((b.has & ~LINEAR & AXES) !== 0) turnRotary(m, b);
  if (m.state.compensation !== null) return compensatedLine(m, b, 'feed', t);
  emitStraight(m, 'feed', t[0]!, t[1]!, t[2]!, feedAlong(m, b, straightLength(m, t)), null);
  return true;
}

/** A feed move needs a feed: F on the line in G93, a feed above zero in G94 (report, 3.5.19). */
function feedStated(m: Interpreter, b: ProgramBlock, p: BlockCodes): boolean {
  const s = m.state;
  if (s.inverse) {
    if (!given(b, F)) return refuse(m, p.explicit >= 0 ? 101 : 102, p.motionColumn);
    return b.value[F]! > 0 || refuse(m, 103, b.column[F]!);
  }
  return s.feed > 0 || refuse(m, 103, p.motionColumn);
}

function straightLength(m: Interpreter, t: Float64Array): number {
  if (!m.state.inverse) return 0;
  const at = m.state.at;
  return Math.hypot(t[0]! - at[0]!, t[1]! - at[1]!, t[2]! - at[2]!);
}

/** G53: this one straight move in absolute machine axes, tool length taken off (report, 3.5.12). */
function machineMove(m: Interpreter, b: ProgramBlock, p: BlockCodes): boolean {
  const s = m.state;
  const column = p.gColumn[0]!;
  if (s.compensation !== null) return refuse(m, 75, column);
  if (!s.absolute) return refuse(m, 63, column);
  warnStored(m, column, 'a point in machine axes');
  const t = [0, 1, 2].map((i) => {
    if (!given(b, X + i)) return s.at[i]!;
    return b.value[X + i]! * s.unit - (i === 2 ? s.lengthOffset : 0);
  });
  if (p.motion === 0) emitStraight(m, 'rapid', t[0]!, t[1]!, t[2]!, Number.NaN, null);
  else {
    if (!feedStated(m, b, p)) return false;
    emitStraight(m, 'feed', t[0]!, t[1]!, t[2]!, feedAlong(m, b, straightLength(m, Float64Array.from(t))), null);
  }
  return true;
}

function probe(m: Interpreter, b: ProgramBlock, p: BlockCodes): boolean {
  const s = m.state;
  const column = p.motionColumn;
  if (s.inverse) return refuse(m, 113, column);
  if (s.spindle.on) return refuse(m, 116, column, 'the spindle turns');
  if (!m.probe) return refuse(m, 116, column, 'no probe');
  const t = target(m, b);
  const length = Math.hypot(t[0]! - s.at[0]!, t[1]! - s.at[1]!, t[2]! - s.at[2]!);
  if (length < PROBE_LEAST_MM - 1e-9) return refuse(m, 112, column, `${length.toFixed(4)} mm`);
  if (!(s.feed > 0)) return refuse(m, 103, column);
  const found = 'where the probe trips is known only at the machine';
  const wanted = 'no later move that hangs on it';
  caution(m, { code: 'probe-result-unknown', column, found, wanted, remedy: 'taken as the programmed point' });
  emitStraight(m, 'probe', t[0]!, t[1]!, t[2]!, feedAlong(m, b, length), null);
  for (let i = 0; i < 6; i++) s.parameters[5061 + i] = (s.at[i]! - s.origin[i]! - s.shift[i]!) / (i < 3 ? s.unit : 1);
  return true;
}

function turnRotary(m: Interpreter, b: ProgramBlock): void {
  const s = m.state;
  for (let i = 0; i < 3; i++) {
    if (!given(b, A + i)) continue;
    const v = b.value[A + i]!;
    s.at[3 + i] = s.absolute ? v + s.origin[3 + i]! + s.shift[3 + i]! : s.at[3 + i]! + v;
  }
}
