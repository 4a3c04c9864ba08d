/** Coordinate systems and offsets: G43/G49, G54 to G59.3, G10, G28, G30, G92 (report, 3.2.2, 3.5.5 to 3.5.18). */

import type { BlockCodes } from '../plan.ts';
import { AXES, given, H, L, P, type ProgramBlock, X } from '../text/block.ts';
import { WHOLE } from '../text/expression.ts';
import { caution, emitEvent, emitStraight, fault, hangsOnControl, type Interpreter, refuse } from './machine.ts';
import { type ModalState, originIndex, positionOf } from './state.ts';
import { target } from './target.ts';

export function lengthOffset(m: Interpreter, b: ProgramBlock, p: BlockCodes): boolean {
  const code = p.group[8]!;
  if (code < 0) return true;
  if (code === 490) {
    m.sink?.length?.(null, m.line);
    return setLength(m, 0);
  }
  if (!given(b, H)) return refuse(m, 83, p.gColumn[8]!);
  const h = Math.round(b.value[H]!);
  if (Math.abs(h - b.value[H]!) > WHOLE || h < 0 || h > m.slots) return refuse(m, 84, b.column[H]!, `H${b.value[H]}`);
  m.sink?.length?.(h, m.line);
  if (h !== 0 && !m.lengths.has(h)) {
    const found = `no length for slot ${h}`;
    const wanted = 'a row of the tool table';
    const remedy = 'taken as zero: give the table';
    caution(m, { code: 'tool-data-missing', column: b.column[H]!, found, wanted, remedy });
  }
  return setLength(m, h === 0 ? 0 : (m.lengths.get(h) ?? 0));
}

/** No motion, but the controlled point is now another: its coordinate along the spindle changes (report, 2.1.2.3). */
function setLength(m: Interpreter, length: number): boolean {
  const s = m.state;
  if (length === s.lengthOffset) return true;
  s.at[2] = s.at[2]! + s.lengthOffset - length;
  s.lengthOffset = length;
  s.position = positionOf(s);
  emitEvent(m, 'length');
  return true;
}

export function selectSystem(m: Interpreter, p: BlockCodes): boolean {
  const code = p.group[12]!;
  if (code < 0) return true;
  const s = m.state;
  if (s.compensation !== null) return refuse(m, 76, p.gColumn[12]!);
  const system = code <= 590 ? (code - 530) / 10 : 6 + (code - 590);
  if (system !== s.system) warnStored(m, p.gColumn[12]!, 'another coordinate system');
  setSystem(s, system);
  return true;
}

/** Makes a coordinate system the active one. Writing parameter 5220 or an origin by `#` does not: only these codes do. */
export function setSystem(s: ModalState, system: number): void {
  s.system = system;
  s.parameters[5220] = system;
  const first = originIndex(system);
  for (let i = 0; i < 6; i++) s.origin[i] = s.parameters[first + i]!;
}

/** Item 19 of the order of execution: the codes that take the axis words of their line. */
export function takeAxes(m: Interpreter, b: ProgramBlock, p: BlockCodes): boolean {
  const code = p.group[0]!;
  const column = p.gColumn[0]!;
  if (code === 280 || code === 300) return goHome(m, b, p);
  if (code === 100) return setOrigin(m, b, column);
  if (code < 920) return true;
  if (m.state.compensation !== null) return refuse(m, 77, column);
  if (code === 920) return shiftOrigin(m, b, column);
  if (code === 923) {
    const remedy = 'use the one coordinate system that was set on the work, without stored shifts';
    const found = 'G92.3 brings back a shift stored in the control';
    hangsOnControl(m, { code: 'offset-unknown', column, found, remedy });
  }
  return storedShift(m, code);
}

function goHome(m: Interpreter, b: ProgramBlock, p: BlockCodes): boolean {
  const s = m.state;
  if (s.compensation !== null) return refuse(m, 73, p.gColumn[0]!);
  warnStored(m, p.gColumn[0]!, 'the home position');
  if ((b.has & AXES) !== 0) {
    const t = target(m, b);
    emitStraight(m, 'rapid', t[0]!, t[1]!, t[2]!, Number.NaN, null);
  }
  const first = p.group[0] === 280 ? 5161 : 5181;
  const home = [0, 1, 2].map((i) => s.parameters[first + i]!);
  emitStraight(m, 'rapid', home[0]!, home[1]!, home[2]! - s.lengthOffset, Number.NaN, null);
  return true;
}

function setOrigin(m: Interpreter, b: ProgramBlock, column: number): boolean {
  const s = m.state;
  if (!given(b, L)) return refuse(m, 59, column);
  const l = Math.round(b.value[L]!);
  if (Math.abs(l - b.value[L]!) > WHOLE) return refuse(m, 25, b.column[L]!, `L${b.value[L]}`);
  if (l !== 2) return refuse(m, 59, b.column[L]!, `L${l}`);
  if (!given(b, P)) return refuse(m, 60, column);
  const system = Math.round(b.value[P]!);
  if (Math.abs(system - b.value[P]!) > WHOLE || system < 1 || system > 9)
    return refuse(m, 60, b.column[P]!, `P${b.value[P]}`);
  warnStored(m, column, 'the origin of a coordinate system');
  for (let i = 0; i < 6; i++) {
    const letter = i < 3 ? X + i : i - 3;
    if (given(b, letter)) s.parameters[originIndex(system) + i] = b.value[letter]! * (i < 3 ? s.unit : 1);
  }
  if (system === s.system) setSystem(s, system);
  emitEvent(m, 'offset');
  return true;
}

function shiftOrigin(m: Interpreter, b: ProgramBlock, column: number): boolean {
  const s = m.state;
  const shift = 'G92 shifts the zero, and some controls keep the shift for the program after';
  const found = shift;
  const remedy = 'write the coordinates over the zero that was set';
  hangsOnControl(m, { code: 'offset-unknown', column, found, remedy });
  for (let i = 0; i < 6; i++) {
    const letter = i < 3 ? X + i : i - 3;
    if (!given(b, letter)) continue;
    const offset = s.at[i]! - s.origin[i]! - b.value[letter]! * (i < 3 ? s.unit : 1);
    if (Number.isNaN(offset)) {
      const found = 'G92 on an axis that the program has not placed';
      return fault(m, {
        code: 'position-unknown',
        column,
        found,
        wanted: 'a known position',
        remedy: 'move the axis first',
      });
    }
    s.shift[i] = offset;
  }
  for (let i = 0; i < 6; i++) s.parameters[5211 + i] = s.shift[i]!;
  emitEvent(m, 'offset');
  return true;
}

function storedShift(m: Interpreter, code: number): boolean {
  const s = m.state;
  for (let i = 0; i < 6; i++) {
    if (code === 921) s.parameters[5211 + i] = 0;
    s.shift[i] = code === 923 ? s.parameters[5211 + i]! : 0;
  }
  emitEvent(m, 'offset');
  return true;
}

/** These depend on numbers stored in the control; without them the position on the work cannot be proven. */
export function warnStored(m: Interpreter, column: number, what: string): void {
  if (m.storedOffsets) return;
  const found = `${what} hangs on numbers stored in the control`;
  const wanted = 'known parameters';
  caution(m, { code: 'stored-offsets', column, found, wanted, remedy: 'taken as zero: give the parameters' });
}
