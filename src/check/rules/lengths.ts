/**
 * Whose length the control reckons with. A cutter changed by hand is touched off at a stop, or its own length is called from the
 * control's table (G43 H with the cutter's number); otherwise every depth after the change is that of the cutter before.
 */
import type { Findings } from '../findings.ts';

interface State {
  next: number | null;
  tool: number | null;
  /** Block of the change since which nobody has touched off. */
  changed: number | null;
  byTable: boolean;
}

export class LengthRules {
  private readonly state: State = { next: null, tool: null, changed: null, byTable: false };
  private readonly program: number;
  private readonly out: Findings;

  constructor(program: number, out: Findings) {
    this.program = program;
    this.out = out;
  }

  /** `bare`: a line as `bareLine` gives it. */
  line(bare: string, block: number): void {
    if (bare !== '') follow(this.state, bare, { program: this.program, block }, this.out);
  }
}

function follow(s: State, words: string, spot: { program: number; block: number }, out: Findings): void {
  s.next = numberOf(words, 'T') ?? s.next;
  if (CHANGE.test(words)) {
    s.tool = s.next;
    s.changed = spot.block;
    s.byTable = false;
  }
  if (TABLE.test(words)) {
    const h = numberOf(words, 'H');
    s.byTable = true;
    if (h !== null && s.tool !== null && h !== s.tool) {
      const found = `G43 H${h} with cutter ${s.tool}`;
      out.fault(
        'length-unknown',
        found,
        `H${s.tool}, its own length`,
        'call the length of the cutter in the spindle',
        spot,
      );
    } else if (h !== null && s.tool === null) {
      const found = `G43 H${h} before any cutter is called`;
      out.fault('length-unknown', found, 'the length of the cutter in the spindle', 'call the cutter first', spot);
    }
    s.changed = null;
  }
  if (NO_TABLE.test(words) && s.byTable) {
    s.byTable = false;
    s.changed = spot.block;
  }
  if (CUT.test(words) && s.changed !== null) {
    out.fault(
      'length-unknown',
      `cutter ${s.tool ?? '?'} cuts, and since block ${s.changed} nobody has touched it off`,
      'a stop (M0) to touch off after every change, or G43 with its own number',
      'write M0 after the change',
      spot,
    );
    s.changed = null;
  }
  if (STOP.test(words)) s.changed = null;
}

const CHANGE = /M0*6(?![\d.])/;
/** An optional stop may be switched off, and is none. */
const STOP = /M(0+|60)(?![\d.])/;
const TABLE = /G43(?![\d.])/;
const NO_TABLE = /G49(?![\d.])/;
const CUT = /G(0*[123]|8[1-9])(?![\d.])/;

function numberOf(words: string, letter: string): number | null {
  const m = words.match(new RegExp(`${letter}(\\d+)(?![\\d.])`));
  return m === null ? null : Number(m[1]);
}
