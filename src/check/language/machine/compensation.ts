/** Cutter radius compensation on and off: G40, G41, G42 with D (report, 3.5.10 and appendix B). */

import type { BlockCodes } from '../plan.ts';
import { D, given, type ProgramBlock } from '../text/block.ts';
import { WHOLE } from '../text/expression.ts';
import { caution, hangsOnControl, type Interpreter, refuse } from './machine.ts';

export function compensate(m: Interpreter, b: ProgramBlock, p: BlockCodes): boolean {
  const code = p.group[7]!;
  if (code < 0) return true;
  const s = m.state;
  const column = p.gColumn[7]!;
  if (code === 400) {
    s.compensation = null;
    return true;
  }
  if (s.plane !== 'XY') return refuse(m, 65, column);
  if (s.compensation !== null) return refuse(m, 66, column);
  const table = "a path moved aside by the diameter in the control's table";
  const found = table;
  const remedy = 'write the path of the axis, without G41 and G42';
  hangsOnControl(m, { code: 'compensation-unknown', column, found, remedy });
  const slot = slotOf(m, b);
  if (slot === null) return false;
  const diameter = diameterOf(m, slot, given(b, D) ? b.column[D]! : column);
  const left = (code === 410) === diameter >= 0;
  s.compensation = {
    side: left ? 'left' : 'right',
    radius: Math.abs(diameter) / 2,
    first: true,
    x: Number.NaN,
    y: Number.NaN,
  };
  return true;
}

/** Slot named by D, or the tool in the spindle. */
function slotOf(m: Interpreter, b: ProgramBlock): number | null {
  if (!given(b, D)) return m.state.tool ?? 0;
  const value = b.value[D]!;
  const slot = Math.round(value);
  const wrong = Math.abs(slot - value) > WHOLE ? 67 : slot < 0 ? 68 : slot > m.slots ? 69 : 0;
  if (wrong === 0) return slot;
  refuse(m, wrong, b.column[D]!, `D${value}`);
  return null;
}

function diameterOf(m: Interpreter, slot: number, column: number): number {
  const diameter = slot === 0 ? 0 : m.diameters.get(slot);
  if (diameter !== undefined) return diameter;
  const found = `no diameter for slot ${slot}`;
  const wanted = 'a row of the tool table';
  caution(m, { code: 'tool-data-missing', column, found, wanted, remedy: 'taken as zero: give the table' });
  return 0;
}
