/**
 * Waiting with the cutter in the stock. A turn or two evens a bottom, and half a second breaks a chip; what turns on the spot for longer cuts
 * nothing, rubs its edge off and heats and hardens the metal (common practice; of stainless steel "never dwell or rub", physics 2.3).
 */
import type { Job } from '../../part/part.ts';
import type { CanonicalMove } from '../language/canonical.ts';
import { ROUNDING } from '../limits.ts';
import type { Findings } from '../report/findings.ts';

/** Seconds that anybody waits for a chip or a flat bottom; as many turns at the slowest speeds. */
const ENOUGH = { seconds: 2, turns: 10 } as const;
/** Ten times that, at one place, does nothing but rub. */
const ABSURD = 20;
/** Seconds in the stock of a whole program, and of one wait in the air: where P was meant in thousandths, most likely. */
const MANY = 60;

export class DwellRules {
  private at = '';
  private here = 0;
  private whole = 0;
  private readonly told = new Set<string>();
  private readonly job: Job;
  private readonly program: number;
  private readonly out: Findings;

  constructor(job: Job, program: number, out: Findings) {
    this.job = job;
    this.program = program;
    this.out = out;
  }

  move(m: CanonicalMove): void {
    if (m.kind !== 'dwell') return;
    const { x, y, z } = m.to;
    if (z === null || z >= this.job.stock.max[2] - ROUNDING || !m.spindle.on) {
      if (m.seconds > MANY) this.tellOnce('air', m.block, `the program waits ${words(m.seconds)}`, `at most ${MANY} s`);
      return;
    }
    // Up and down again in the same hole is the same place.
    const at = `${x?.toFixed(2)} ${y?.toFixed(2)} ${m.tool}`;
    this.here = (this.at === at ? this.here : 0) + m.seconds;
    this.at = at;
    this.whole += m.seconds;
    this.judge(m.seconds, m.spindle.speed, m.block);
  }

  private judge(seconds: number, speed: number, block: number): void {
    const { here, whole } = this;
    const enough = Math.max(ENOUGH.seconds, speed > 0 ? (60 * ENOUGH.turns) / speed : 0);
    if (here > ABSURD) {
      this.tellAbsurd(block);
      return;
    }
    if (seconds > enough)
      this.tellOnce(
        'one',
        block,
        `the cutter turns on the spot in the stock for ${words(seconds)}`,
        `${enough.toFixed(1)} s, enough for a chip to break`,
      );
    if (whole > MANY)
      this.tellOnce('many', block, `the program's waits in the stock come to ${words(whole)}`, `at most ${MANY} s`);
  }

  private tellAbsurd(block: number): void {
    if (this.told.has(this.at)) return;
    this.told.add(this.at);
    const found = `the cutter turns on the spot in the stock for ${words(this.here)}, and rubs`;
    const wanted = `at most ${ABSURD} s at one place; ${ENOUGH.seconds} s break any chip`;
    const remedy = 'shorten it: P is in seconds';
    this.out.fault({ code: 'dwell-long', at: { program: this.program, block }, found, wanted, remedy });
  }

  private tellOnce(kind: string, block: number, found: string, wanted: string): void {
    if (this.told.has(kind)) return;
    this.told.add(kind);
    const remedy = 'shorten it: P is in seconds';
    this.out.caution({ code: 'dwell-long', at: { program: this.program, block }, found, wanted, remedy });
  }
}

function words(seconds: number): string {
  return seconds < 600 ? `${Number(seconds.toFixed(1))} s` : `${(seconds / 60).toFixed(0)} min`;
}
