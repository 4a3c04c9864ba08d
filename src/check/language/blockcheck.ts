/**
 * What can be judged of a block before it runs: codes that exist, one of each group, words that something uses,
 * and which motion the line makes (report, 3.3.5, 3.4, 3.5).
 */

import { cycleDwells, G_GROUP, isCycle, M_GROUP, takesAxes } from './groups.ts';
import { type Interpreter, refuse } from './machine/machine.ts';
import type { BlockCodes } from './plan.ts';
import { AXES, D, firstColumn, given, H, L, OFFSETS, P, type ProgramBlock, Q, R, ROTARY, S, T } from './text/block.ts';

/** Letters that a plain G0 or G1 line may carry without further question. */
const EASY = AXES & ~ROTARY;
const FEED_BIT = 1 << 5;

export function checkWords(m: Interpreter, b: ProgramBlock, p: BlockCodes): boolean {
  if (straight(m, b, p)) return true;
  for (let i = 0; i < p.group.length; i++) p.group[i] = -1;
  for (let i = 0; i < p.mGroup.length; i++) p.mGroup[i] = -1;
  p.motion = -1;
  p.plain = b.gCount === 0 && b.mCount === 0 && (b.has & ((1 << S) | (1 << T))) === 0;
  if (b.gCount > 0 && !gCodes(m, b, p)) return false;
  if (b.mCount > 0 && !mCodes(m, b, p)) return false;
  p.explicit = p.group[1]!;
  return chooseMotion(m, b, p) && wordsUsed(m, b, p) && rotaryWords(m, b, p);
}

/** The short way for most lines: G0 or G1, written or in force, with nothing but X, Y, Z and F. */
function straight(m: Interpreter, b: ProgramBlock, p: BlockCodes): boolean {
  if (b.mCount > 0 || b.gCount > 1 || (b.has & ~(EASY | FEED_BIT)) !== 0 || (b.has & EASY) === 0) return false;
  const motion = b.gCount === 1 ? b.g[0]! : m.state.motion;
  if (motion !== 0 && motion !== 10) return false;
  p.group[0] = -1;
  p.plain = true;
  p.explicit = b.gCount === 1 ? motion : -1;
  p.motion = motion;
  p.motionColumn = b.gCount === 1 ? b.gColumn[0]! : firstColumn(b, EASY);
  return true;
}

function gCodes(m: Interpreter, b: ProgramBlock, p: BlockCodes): boolean {
  for (let i = 0; i < b.gCount; i++) {
    const code = b.g[i]!;
    const column = b.gColumn[i]!;
    const group = code >= 0 && code < G_GROUP.length ? G_GROUP[code]! : -1;
    if (group < 0) return refuse(m, 22, column);
    if (p.group[group]! >= 0)
      return refuse(m, group === 7 ? 120 : 19, column, `G${p.group[group]! / 10} and G${code / 10}`);
    p.group[group] = code;
    p.gColumn[group] = column;
  }
  return true;
}

function mCodes(m: Interpreter, b: ProgramBlock, p: BlockCodes): boolean {
  if (b.mCount > 4) return refuse(m, 21, b.mColumn[4]!, `${b.mCount} M words`);
  for (let i = 0; i < b.mCount; i++) {
    const code = b.m[i]!;
    const column = b.mColumn[i]!;
    const group = code >= 0 && code < M_GROUP.length ? M_GROUP[code]! : -1;
    if (group < 0) return refuse(m, 23, column);
    if (p.mGroup[group]! >= 0) return refuse(m, 20, column, `M${p.mGroup[group]} and M${code}`);
    p.mGroup[group] = code;
    p.mColumn[group] = column;
  }
  return true;
}

function chooseMotion(m: Interpreter, b: ProgramBlock, p: BlockCodes): boolean {
  const axes = (b.has & AXES) !== 0;
  const taker = takesAxes(p.group[0]!);
  const g53 = p.group[0] === 530;
  p.motionColumn = p.explicit >= 0 ? p.gColumn[1]! : firstColumn(b, AXES);
  if (g53 && !axes) return refuse(m, 62, p.gColumn[0]!);
  if (p.explicit >= 0) {
    if (taker && p.explicit !== 800)
      return refuse(m, 43, p.motionColumn, `G${p.explicit / 10} and G${p.group[0]! / 10}`);
    if (p.explicit === 800 && axes && !taker)
      return refuse(m, g53 ? 61 : 42, g53 ? p.gColumn[0]! : firstColumn(b, AXES));
    if (!axes && p.explicit !== 800) return withoutAxes(m, b, p);
    p.motion = p.explicit;
  } else if (axes && !taker) p.motion = m.state.motion;
  if (p.group[0] === 920 && !axes) return refuse(m, 64, p.gColumn[0]!);
  if (g53 && p.motion !== 0 && p.motion !== 10) return refuse(m, 61, p.gColumn[0]!);
  if (p.motion === 800 && p.explicit < 0) return m.tainted ? false : refuse(m, 41, p.motionColumn);
  return true;
}

function withoutAxes(m: Interpreter, b: ProgramBlock, p: BlockCodes): boolean {
  const code = p.explicit;
  if (code === 0) return refuse(m, 39, p.motionColumn);
  if (code === 10) return refuse(m, 40, p.motionColumn);
  if (code === 382) return refuse(m, 115, p.motionColumn);
  if (isCycle(code)) return refuse(m, 86, p.motionColumn);
  const plane = p.group[2]! >= 0 ? p.group[2]! : { XY: 170, XZ: 180, YZ: 190 }[m.state.plane];
  return refuse(m, plane === 170 ? 44 : plane === 180 ? 45 : 46, b.gCount > 0 ? p.motionColumn : 1);
}

/** Every word must have a code that uses it (report, B.5; reference interpreter). */
function wordsUsed(m: Interpreter, b: ProgramBlock, p: BlockCodes): boolean {
  const motion = p.motion;
  const arc = motion === 20 || motion === 30;
  const cycle = isCycle(motion);
  const zero = p.group[0]!;
  if ((b.has & OFFSETS) !== 0 && !arc && motion !== 870) return refuse(m, 107, firstColumn(b, OFFSETS));
  if (given(b, R) && !arc && !cycle) return refuse(m, 108, b.column[R]!);
  if (given(b, L) && !cycle && zero !== 100) return refuse(m, 109, b.column[L]!);
  if (given(b, P) && zero !== 40 && zero !== 100 && !cycleDwells(motion)) return refuse(m, 110, b.column[P]!);
  if (given(b, Q) && motion !== 830) return refuse(m, 111, b.column[Q]!);
  if (given(b, D) && p.group[7] !== 410 && p.group[7] !== 420) return refuse(m, 70, b.column[D]!);
  if (given(b, H) && p.group[8] !== 430) return refuse(m, 85, b.column[H]!);
  return true;
}

/** A rotary word on a machine without that axis; cycles and probe moves have conditions of their own for rotary motion. */
function rotaryWords(m: Interpreter, b: ProgramBlock, p: BlockCodes): boolean {
  if ((b.has & ROTARY) === 0) return true;
  for (let letter = 0; letter < 3; letter++) {
    if (!given(b, letter) || (m.rotary.includes('ABC'[letter]!) && !isCycle(p.motion) && p.motion !== 382)) continue;
    const moves = b.value[letter] !== (m.state.absolute ? m.state.at[3 + letter]! : 0);
    if (isCycle(p.motion) && (moves || p.explicit >= 0)) return refuse(m, 99, b.column[letter]!);
    if (p.motion === 382 && (b.has & EASY) === 0) return refuse(m, 115, p.motionColumn);
    if (p.motion === 382 && moves) return refuse(m, 114, b.column[letter]!);
    if (!m.rotary.includes('ABC'[letter]!)) return refuse(m, 117, b.column[letter]!, 'ABC'[letter]);
  }
  return true;
}
