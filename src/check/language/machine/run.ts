/** Runs one block on the state, in the order of table 8 of the report. */
import { MM_PER_INCH } from '../../../base/units.ts';
import { checkWords } from '../blockcheck.ts';
import type { BlockCodes } from '../plan.ts';
import { F, given, P, type ProgramBlock, S, T } from '../text/block.ts';
import { WHOLE } from '../text/expression.ts';
import { compensate } from './compensation.ts';
import { caution, emitDwell, emitEvent, type Interpreter, refuse } from './machine.ts';
import { move } from './motion.ts';
import { lengthOffset, selectSystem, setSystem, takeAxes } from './offsets.ts';

/** False if the block is refused; the state is then no longer to be trusted. */
export function runBlock(m: Interpreter, b: ProgramBlock): boolean {
  const plan = m.plan;
  if (!checkWords(m, b, plan)) return false;
  if (plan.plain) return numbers(m, b, plan) && motion(m, b, plan);
  return (
    feedMode(m, b, plan) &&
    numbers(m, b, plan) &&
    spindleAndCoolant(m, plan) &&
    dwell(m, b, plan) &&
    planeAndUnits(m, plan) &&
    compensate(m, b, plan) &&
    lengthOffset(m, b, plan) &&
    selectSystem(m, plan) &&
    modes(m, plan) &&
    takeAxes(m, b, plan) &&
    motion(m, b, plan) &&
    stop(m, plan)
  );
}

function motion(m: Interpreter, b: ProgramBlock, plan: BlockCodes): boolean {
  if (plan.explicit >= 0) {
    if (plan.explicit !== m.state.motion) m.state.cycle = null;
    m.state.motion = plan.explicit;
  }
  if (plan.motion < 0 || plan.motion === 800) return true;
  return move(m, b, plan);
}

function feedMode(m: Interpreter, b: ProgramBlock, plan: BlockCodes): boolean {
  const code = plan.group[5]!;
  if (code < 0) return true;
  // The report is silent on the feed left after inverse time; here it is the last F of a G94 line.
  if (code === 940 && m.state.inverse && !given(b, F)) {
    const found = 'G94 after G93 without a feed';
    const wanted = 'F on its line';
    caution(m, { code: 'feed-after-inverse-time', column: plan.gColumn[5]!, found, wanted, remedy: 'write F' });
  }
  m.state.inverse = code === 930;
  return true;
}

function numbers(m: Interpreter, b: ProgramBlock, plan: BlockCodes): boolean {
  const s = m.state;
  if (given(b, F)) {
    const f = b.value[F]!;
    if (f < 0) return refuse(m, 104, b.column[F]!, `F${f}`);
    if (!s.inverse) s.feed = f;
  }
  if (plan.plain) return true;
  if (given(b, S)) {
    const speed = b.value[S]!;
    if (speed < 0) return refuse(m, 105, b.column[S]!, `S${speed}`);
    if (speed > m.maxSpeed) return refuse(m, 119, b.column[S]!, `S${speed}, the machine has ${m.maxSpeed}`);
    if (speed !== s.spindle.speed) s.spindle = { ...s.spindle, speed };
  }
  if (given(b, T)) {
    const t = Math.round(b.value[T]!);
    if (Math.abs(t - b.value[T]!) > WHOLE) return refuse(m, 25, b.column[T]!, `T${b.value[T]}`);
    if (t < 0 || t > m.slots) return refuse(m, 106, b.column[T]!, `T${t}, there are ${m.slots} slots`);
    s.selected = t;
  }
  return true;
}

function spindleAndCoolant(m: Interpreter, plan: BlockCodes): boolean {
  const s = m.state;
  if (plan.mGroup[6] === 6) {
    if (s.spindle.on) s.spindle = { ...s.spindle, on: false };
    s.tool = s.selected;
    emitEvent(m, 'change');
    forget(m);
  }
  const turn = plan.mGroup[7]!;
  if (turn >= 0)
    s.spindle = { on: turn !== 5, clockwise: turn === 5 ? s.spindle.clockwise : turn === 3, speed: s.spindle.speed };
  return coolant(m, plan);
}

function coolant(m: Interpreter, plan: BlockCodes): boolean {
  const s = m.state;
  const code = plan.mGroup[8]!;
  if (code === 7) {
    if (!m.mist) return refuse(m, 118, plan.mColumn[8]!, 'M7, no mist');
    s.coolant = { mist: true, flood: s.coolant.flood };
  } else if (code === 8) {
    if (!m.flood) return refuse(m, 118, plan.mColumn[8]!, 'M8, no flood');
    s.coolant = { mist: s.coolant.mist, flood: true };
  } else if (code === 9) s.coolant = { mist: false, flood: false };
  return true;
}

function dwell(m: Interpreter, b: ProgramBlock, plan: BlockCodes): boolean {
  if (plan.group[0] !== 40) return true;
  if (!given(b, P)) return refuse(m, 57, plan.gColumn[0]!);
  const seconds = b.value[P]!;
  if (seconds < 0) return refuse(m, 58, b.column[P]!, `P${seconds}`);
  if (seconds > 0) emitDwell(m, seconds, null);
  return true;
}

function planeAndUnits(m: Interpreter, plan: BlockCodes): boolean {
  const s = m.state;
  const plane = plan.group[2]!;
  if (plane >= 0) {
    if (plane !== 170 && s.compensation !== null) return refuse(m, 71, plan.gColumn[2]!);
    s.plane = plane === 170 ? 'XY' : plane === 180 ? 'XZ' : 'YZ';
  }
  const units = plan.group[6]!;
  if (units >= 0) {
    if (s.compensation !== null) return refuse(m, 72, plan.gColumn[6]!);
    s.unit = units === 200 ? MM_PER_INCH : 1;
  }
  return true;
}

function modes(m: Interpreter, plan: BlockCodes): boolean {
  const s = m.state;
  const path = plan.group[13]!;
  if (path >= 0) s.pathControl = path === 610 ? 'exact-path' : path === 611 ? 'exact-stop' : 'continuous';
  const distance = plan.group[3]!;
  if (distance >= 0) s.absolute = distance === 900;
  const level = plan.group[10]!;
  if (level >= 0) s.returnLevel = level === 980 ? 'initial' : 'r';
  return true;
}

function stop(m: Interpreter, plan: BlockCodes): boolean {
  const code = plan.mGroup[4]!;
  if (code < 0) return true;
  if (code === 0 || code === 1 || code === 60) {
    emitEvent(m, code === 0 ? 'stop' : code === 1 ? 'optional-stop' : 'pallet-stop');
    forget(m);
    return true;
  }
  reset(m);
  emitEvent(m, 'end');
  m.endedBy = code === 2 ? 'M2' : 'M30';
  return true;
}

/** What M2 and M30 put back (report, 3.6.1); units, F, S, length offset, path control and return level stay. */
function reset(m: Interpreter): void {
  const s = m.state;
  s.shift.fill(0);
  setSystem(s, 1);
  s.plane = 'XY';
  s.absolute = true;
  s.inverse = false;
  s.compensation = null;
  s.spindle = { ...s.spindle, on: false };
  s.coolant = { mist: false, flood: false };
  s.motion = 10;
  s.cycle = null;
}

function forget(m: Interpreter): void {
  if (!m.unknownAfterStop) return;
  m.state.at.fill(Number.NaN, 0, 3);
  m.state.position = { x: null, y: null, z: null };
}
