/**
 * Whose length the control reckons with. A cutter changed by hand is touched off at a stop, or its own length is called from the
 * control's table (G43 H with the cutter's number); otherwise every depth after the change is that of the cutter before.
 * Judged by what the reader has made of the lines, whatever way the codes are spelt.
 */

import type { CanonicalMove } from '../language/canonical.ts';
import type { Findings } from '../report/findings.ts';

export class LengthRules {
  private tool: number | null = null;
  /** Block of the change since which nobody has touched off. */
  private changed: number | null = null;
  private byTable = false;
  private readonly program: number;
  private readonly out: Findings;

  constructor(program: number, out: Findings) {
    this.program = program;
    this.out = out;
  }

  move(m: CanonicalMove): void {
    switch (m.kind) {
      case 'change':
        this.tool = m.tool;
        this.changed = m.block;
        this.byTable = false;
        return;
      // An optional stop may be switched off, and is none.
      case 'stop':
      case 'pallet-stop':
        this.changed = null;
        return;
      case 'feed':
      case 'arc':
        this.cut(m.block);
        return;
      default:
        return;
    }
  }

  /** `slot`: called from the table; null: none is. */
  length(slot: number | null, block: number): void {
    if (slot === null) {
      if (this.byTable) this.changed = block;
      this.byTable = false;
      return;
    }
    this.byTable = true;
    this.changed = null;
    if (slot === this.tool) return;
    const { tool } = this;
    const found = tool === null ? `G43 H${slot} before any cutter is called` : `G43 H${slot} with cutter ${tool}`;
    const wanted = tool === null ? 'the length of the cutter in the spindle' : `H${tool}, its own length`;
    const remedy = tool === null ? 'call the cutter first' : 'call the length of the cutter in the spindle';
    this.out.fault({ code: 'length-unknown', at: { program: this.program, block }, found, wanted, remedy });
  }

  private cut(block: number): void {
    if (this.changed === null) return;
    const found = `cutter ${this.tool ?? '?'} cuts, and since block ${this.changed} nobody has touched it off`;
    const wanted = 'a stop (M0) to touch off after every change, or G43 with its own number';
    const remedy = 'write M0 after the change';
    this.out.fault({ code: 'length-unknown', at: { program: this.program, block }, found, wanted, remedy });
    this.changed = null;
  }
}
