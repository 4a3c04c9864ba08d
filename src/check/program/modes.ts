/** Modes that a program must state itself before it moves: a control starts with whatever the last program left. */
import type { Findings } from '../report/findings.ts';

/** `proof`: a program that is to be proven must state it; alone it is told. */
type Needed = 'always' | 'proof' | 'told' | 'proof only';

const PATH_CONTROL = 'G61 or G64, exact path or not';

const MODES: readonly (readonly [code: RegExp, name: string, needed: Needed])[] = [
  [/G0*2[01](?![\d.])/, 'G20 or G21, the units', 'always'],
  [/G0*9[01](?![\d.])/, 'G90 or G91, absolute or not', 'always'],
  [/G0*1[789](?![\d.])/, 'G17, the plane of arcs', 'proof'],
  [/G0*9[34](?![\d.])/, 'G94, feed in lengths a minute', 'proof'],
  [/G0*6(1|1\.1|4)(?![\d.])/, PATH_CONTROL, 'told'],
  [/G0*5([4-9]|9\.[123])(?![\d.])/, 'G54, the coordinate system set on the work', 'proof only'],
  [/G0*4[39](?![\d.])/, 'G49 or G43, the length of the cutter', 'proof only'],
  [/G0*40(?![\d.])/, 'G40, the path as it is written', 'proof only'],
];

/** Fed line by line up to and with the first that moves or stops. */
export class ModeRules {
  /** Until a line has moved. */
  open = true;
  private missing = MODES;

  /** `bare`: a line as `bareLine` gives it. */
  line(bare: string): void {
    if (this.open && this.missing.length > 0) this.missing = this.missing.filter(([code]) => !code.test(bare));
  }

  /** Whether a line up to the first move says how exactly the path is followed. */
  get statesPathControl(): boolean {
    return !this.missing.some(([, name]) => name === PATH_CONTROL);
  }

  /** `firstMove`: line number of the first motion or stop; null when there is none. */
  tell(firstMove: number | null, proof: boolean, program: number, out: Findings): void {
    for (const [, name, needed] of this.missing) {
      if (needed === 'proof only' && !proof) continue;
      const spot = { program, block: firstMove ?? 1 };
      const found = `the program does not state ${name} before its first move`;
      const wanted = 'the whole modal state at the start';
      const severe = needed === 'always' || (proof && needed !== 'told');
      out.faultIf(severe, { code: 'mode-not-stated', at: spot, found, wanted, remedy: 'write it on the first line' });
    }
  }
}
