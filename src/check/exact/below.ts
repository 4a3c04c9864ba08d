/** What lies under the stock: how deep each cutter may go into a backing plate, and that nothing goes into vice, parallels or table. */
import type { Mm } from '../../base/units.ts';
import type { CutterKind, Job } from '../../part/part.ts';
import { ROUNDING } from '../limits.ts';
import type { Findings } from '../report/findings.ts';
import { isVertical, type Stroke, spotOf } from '../strokes/stroke.ts';

/** Holes that are told once each; beyond them a hole may be told again. */
const MOST_HOLES = 10_000;

/**
 * A cutter's full diameter goes past the lower face by 0.1 to 0.3 mm (common practice); a plate that is not flat asks for a little more.
 * Deeper it only fills its flutes with the backing.
 */
const INTO_BACKING: Mm = 0.5;

const OUT_BELOW: readonly CutterKind[] = ['drill', 'reamer', 'tap', 'spot drill', 'centre drill'];

/** Looks at stroke after stroke. */
export class Below {
  private readonly job: Job;
  private readonly out: Findings;
  private readonly told = new Set<string>();
  /** Lower face of the stock. */
  private readonly under: Mm;

  constructor(job: Job, out: Findings) {
    this.job = job;
    this.out = out;
    this.under = job.stock.min[2];
  }

  check(s: Stroke): void {
    if (s.low >= this.under - ROUNDING && !this.bodyBelow(s)) return;
    const { under } = this.job;
    const between = under.kind === 'parallels' && OUT_BELOW.includes(s.tool.cutter.kind);
    const floor = under.kind === 'plate' || between ? this.under - under.thickness : this.under;
    if (s.low < floor - ROUNDING) {
      const into = under.kind === 'plate' ? 'through the backing plate' : `into the ${under.kind}`;
      this.tell(s, `cutter ${s.tool.number} goes to z ${s.low.toFixed(3)}, ${into}`, floor, floor - s.low);
      return;
    }
    if (under.kind === 'plate') this.checkBacking(s);
    if (between) this.cautionBetween(s);
  }

  private bodyBelow(s: Stroke): boolean {
    const lowest = s.tool.wide[0];
    return lowest !== undefined && s.low + lowest.from < this.under - ROUNDING;
  }

  /** Drills and what follows them go straight down as deep as the plate is thick. */
  private checkBacking(s: Stroke): void {
    const lowest = s.tool.wide[0];
    if (lowest !== undefined && this.bodyBelow(s)) {
      const low = s.low + lowest.from;
      const found = `the ${lowest.name} of cutter ${s.tool.number} goes to z ${low.toFixed(3)}, into the backing plate`;
      this.tell(s, found, this.under, this.under - low);
      return;
    }
    if (isVertical(s) && OUT_BELOW.includes(s.tool.cutter.kind)) return;
    // A rounded end goes deeper by its corner than its full diameter cuts; a cone's flank does the cutting, not its full diameter.
    const { shape } = s.tool;
    const full = s.low + (shape.pointed ? 0 : shape.fullAt);
    const least = this.under - INTO_BACKING;
    if (full >= least - ROUNDING) return;
    const found = `cutter ${s.tool.number} goes ${(this.under - full).toFixed(3)} mm into the backing plate`;
    this.tell(s, found, least, least - full);
  }

  private tell(s: Stroke, found: string, least: Mm, size: Mm): void {
    const wanted = `no lower than z ${least.toFixed(3)}`;
    const remedy = 'cut less deep or lay a backing plate under the stock';
    this.out.fault({ code: 'cuts-below', at: spotOf(s), size, found, wanted, remedy });
  }

  /** Where the parallels lie is not in the job. */
  private cautionBetween(s: Stroke): void {
    const { x, y } = s.path.b;
    const hole = `X ${x.toFixed(3)} Y ${y.toFixed(3)}`;
    if (this.told.has(hole)) return;
    if (this.told.size < MOST_HOLES) this.told.add(hole);
    this.out.caution({
      code: 'between-parallels',
      at: { program: s.program, block: s.block, at: [x, y, s.low] as const },
      found: `the hole at ${hole} comes out below the stock`,
      wanted: 'no parallel under the hole',
      remedy: 'look where the parallels lie',
    });
  }
}
