/** The strokes of each set-up, gathered move by move while programs are read: the plate with its parts, and each part on edge. */
import type { Mm } from '../../base/units.ts';
import type { Job } from '../../part/part.ts';
import type { CanonicalMove } from '../language/canonical.ts';
import type { Findings } from '../report/findings.ts';
import type { Shelf, Spool } from '../strokes/spool.ts';
import { type Stroke, strokesOf, type Tool, toolOf } from '../strokes/stroke.ts';
import { spoolOfStrokes } from '../strokes/strokes.ts';

export class Gathered {
  private readonly shelf: () => Shelf;
  private readonly tools: ReadonlyMap<number, Tool>;
  /** Of stock and clamps: a cutter that is not known may pass above. */
  private readonly top: Mm;
  private readonly setUps = new Map<number | null, Spool<Stroke>>();

  constructor(job: Job, shelf: () => Shelf) {
    this.shelf = shelf;
    const tops = job.clamps.map((c) => (c.kind === 'block' ? c.top : job.stock.max[2]));
    this.top = Math.max(job.stock.max[2], ...tops);
    this.tools = new Map(job.cutters.map((c) => [c.number, toolOf(c)]));
  }

  /** `edge`: index of the hole whose part stands on edge; null: the plate. */
  strokes(edge: number | null): Spool<Stroke> {
    const known = this.setUps.get(edge);
    if (known !== undefined) return known;
    const made = spoolOfStrokes([...this.tools.values()], this.shelf());
    this.setUps.set(edge, made);
    return made;
  }

  /** `only`: the one cutter of a program that calls none; null where it names several. What no cutter of the job does is told. */
  add(m: CanonicalMove, program: number, edge: number | null, only: number | null, out: Findings): void {
    const number = m.tool ?? only;
    const tool = number === null ? undefined : this.tools.get(number);
    if (tool === undefined) {
      tellUnknown(m, this.top, program, out);
      return;
    }
    const strokes = this.strokes(edge);
    for (const s of strokesOf(m, program, tool, strokes.length)) strokes.push(s);
  }
}

function tellUnknown(m: CanonicalMove, top: Mm, program: number, out: Findings): void {
  const low = m.kind === 'rapid' && Math.min(m.from.z ?? top, m.to.z ?? top) < top;
  if (m.kind !== 'feed' && m.kind !== 'arc' && !low) return;
  const which = m.tool === null ? 'before any cutter is called' : `with cutter ${m.tool}, which the job does not have`;
  const found = `${low ? 'a rapid below the tops of stock and clamps' : 'a cut'} ${which}`;
  const wanted = 'a cutter of the job';
  const remedy = 'write T and M6, or add the cutter to the job';
  out.fault({ code: 'cutter-unknown', at: { program, block: m.block }, found, wanted, remedy });
}
