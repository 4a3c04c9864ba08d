/** Modes that a program must state itself before it moves: a control starts with whatever the last program left. */
import type { Findings } from '../findings.ts';
import { bareLines } from './bare.ts';

const MODES: readonly (readonly [code: RegExp, name: string, severity: 'fault' | 'caution'])[] = [
  [/G0*2[01](?![\d.])/i, 'G20 or G21, the units', 'fault'],
  [/G0*9[01](?![\d.])/i, 'G90 or G91, absolute or not', 'fault'],
  [/G0*1[789](?![\d.])/i, 'G17, the plane of arcs', 'caution'],
  [/G0*9[34](?![\d.])/i, 'G94, feed in lengths a minute', 'caution'],
  [/G0*6(1|1\.1|4)(?![\d.])/i, 'G61 or G64, exact path or not', 'caution'],
];

/** `firstMove`: line number of the first motion or stop. */
export function checkModes(text: string, firstMove: number, program: number, out: Findings): void {
  const before = bareLines(text).slice(0, Math.min(firstMove, 10_000)).join('\n');
  for (const [code, name, severity] of MODES) {
    if (code.test(before)) continue;
    const spot = { program, block: Number.isFinite(firstMove) ? firstMove : 1 };
    const found = `the program does not state ${name} before its first move`;
    if (severity === 'fault')
      out.fault('mode-not-stated', found, 'the whole modal state at the start', 'write it on the first line', spot);
    else
      out.caution('mode-not-stated', found, 'the whole modal state at the start', 'write it on the first line', spot);
  }
}
