/** Cutters that go along their own axis only: drills, reamers and taps, below the top of the stock. */
import type { Mm } from '../../base/units.ts';
import type { CutterKind, Job } from '../../part/part.ts';
import { ROUNDING } from '../limits.ts';
import type { Findings } from '../report/findings.ts';
import { isVertical, type Stroke, spotOf } from '../strokes/stroke.ts';

const STRAIGHT: readonly CutterKind[] = ['drill', 'centre drill', 'reamer', 'tap'];

export function checkAxial(strokes: Iterable<Stroke>, job: Job, out: Findings): void {
  const top = job.stock.max[2];
  const again = new Repeats(out);
  for (const s of strokes) {
    if (s.low >= top - ROUNDING || !STRAIGHT.includes(s.tool.cutter.kind)) continue;
    if (!s.rapid && !isVertical(s)) tellSideways(s, out);
    if (s.tool.cutter.kind === 'tap') checkTap(s, job, out);
    if (s.tool.cutter.kind === 'reamer') checkReamer(s, out);
    again.look(s);
  }
}

/** It has no edges on its side, or would widen the hole it is in, and it breaks. */
function tellSideways(s: Stroke, out: Findings): void {
  const { kind, number } = s.tool.cutter;
  const found = `${kind} ${number} is fed sideways at z ${s.low.toFixed(3)}`;
  const wanted = 'along its axis only, below the top of the stock';
  out.fault({ code: 'drill-sideways', at: spotOf(s), found, wanted, remedy: 'raise it first, or take an end mill' });
}

/** Feed and turn of a tap are one: only a cycle that couples and reverses them keeps its thread, and only where the machine can. */
function checkTap(s: Stroke, job: Job, out: Findings): void {
  const cycle = s.cycle === 84 || s.cycle === 74;
  if (!s.turning || (cycle && job.machine.tapping === 'machine')) return;
  const found = cycle
    ? 'in a tapping cycle, on a machine that does not tap'
    : `by ${s.rapid ? 'a rapid' : 'a plain feed'}`;
  out.fault({
    code: 'tap-unguided',
    at: spotOf(s),
    found: `tap ${s.tool.number} moves below the top of the stock with the spindle on, ${found}`,
    wanted: 'a tapping cycle (G84) on a machine that taps, else tapping by hand at a stop',
    remedy: cycle ? 'tap by hand, or say in the job that the machine taps' : 'write G84, or tap by hand',
  });
}

/** Drawn out in a hurry it scores the bore that it has made: fed out as it was fed in (common practice; the cycle for it is G85). */
function checkReamer(s: Stroke, out: Findings): void {
  if (!s.rapid || s.zb <= s.za) return;
  const found = `reamer ${s.tool.number} is drawn out by a rapid`;
  out.caution({ code: 'ream-rapid-out', at: spotOf(s), found, wanted: 'fed out', remedy: 'write G85' });
}

/** Less a peck than this rubs more than it cuts, mm: a tenth of the least that is published for a drill of 1 mm. */
const LEAST_PECK: Mm = 0.05;
/** The last of a hole may be any size. */
const MOST_SMALL = 3;
/** A hole is cleared by going down it again once or twice, not more. */
const MOST_PASSES = 3;

/** Small pecks after each other, and the same hole over and over, by one block. */
class Repeats {
  private readonly out: Findings;
  private key = '';
  private low: Mm = Infinity;
  private small = 0;
  private passes = 0;

  constructor(out: Findings) {
    this.out = out;
  }

  look(s: Stroke): void {
    if (s.rapid || s.zb >= s.za || !isVertical(s)) return;
    const key = `${s.program} ${s.block} ${s.path.a.x} ${s.path.a.y}`;
    if (key !== this.key) [this.key, this.low, this.small, this.passes] = [key, Infinity, 0, 0];
    const on = this.low - s.zb;
    if (on > ROUNDING && on < LEAST_PECK) this.small++;
    if (on > ROUNDING) [this.low, this.passes] = [s.zb, 1];
    else if (Math.abs(on) <= ROUNDING) this.passes++;
    if (this.small === MOST_SMALL + 1 && on > ROUNDING) this.tellSmall(s, on);
    if (this.passes === MOST_PASSES + 1 && Math.abs(on) <= ROUNDING) this.tellAgain(s);
  }

  private tellSmall(s: Stroke, on: Mm): void {
    const found = `${s.tool.cutter.kind} ${s.tool.number} goes on by ${on.toFixed(4)} mm a peck`;
    const wanted = `at least ${LEAST_PECK} mm`;
    this.out.caution({ code: 'peck-small', at: spotOf(s), found, wanted, remedy: 'peck deeper' });
  }

  private tellAgain(s: Stroke): void {
    const found = `${s.tool.cutter.kind} ${s.tool.number} goes down the same hole more than ${MOST_PASSES} times in one block`;
    const wanted = 'once, or once more to clear it';
    this.out.caution({ code: 'drilled-again', at: spotOf(s), found, wanted, remedy: 'take the repeats out' });
  }
}
