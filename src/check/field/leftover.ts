/** What the field says is left against what was wanted: floors of pockets, the top face, and a second, coarse look for gouges. */
import type { Mm } from '../../base/units.ts';
import type { Point } from '../../geometry/types.ts';
import { centreX, centreY, type Field } from '../../stock/field.ts';
import { LIMITS } from '../limits.ts';
import type { Findings } from '../report/findings.ts';
import type { Labels } from '../wanted/labels.ts';

/** `leftRound`: whether a point of a part (from 0) lies in an inside corner that no cutter in use enters. */
export function checkLeftover(
  f: Field,
  labels: Labels,
  leftRound: (part: number, p: Point) => boolean,
  complete: boolean,
  out: Findings,
): void {
  const high = new Leftover();
  const low = new Leftover();
  for (let k = 0; k < f.heights.length; k++) {
    const part = labels.part[k]!;
    if (part === 0) continue;
    const off = f.heights[k]! - labels.wanted[k]!;
    if (off > LIMITS.depth) {
      const at = { x: centreX(f, k % f.cols), y: centreY(f, Math.floor(k / f.cols)) };
      if (!leftRound(part - 1, at)) high.add(part, k, off);
    } else if (off < -LIMITS.depth) low.add(part, k, -off);
  }
  for (const [part, s] of low.parts) {
    const found = `part ${part} is ${s.worst.toFixed(3)} mm too low over ${area(f, s.count)} mm2`;
    out.fault({ code: 'gouge-field', ...worstOf(f, s), found, wanted: 'the height wanted' });
  }
  for (const [part, s] of high.parts) {
    if (!complete) {
      out.doubt(
        `height of part ${part}`,
        'stock is left on faces or pocket floors, and some programs of the job are absent',
      );
      continue;
    }
    const found = `${s.worst.toFixed(3)} mm of stock is left over ${area(f, s.count)} mm2 of part ${part}`;
    const wanted = 'pocket floors and top face cut to their height';
    out.fault({ code: 'face-uncut', ...worstOf(f, s), found, wanted });
  }
  if (low.parts.size === 0 && high.parts.size === 0) {
    const says =
      'faces and pocket floors stand at their height within 0.01 mm at every cell more than a cell from a wall; a ridge thinner than a cell could be missed; inside corners that no cutter in use enters are left out';
    out.prove('faces and floors', f.cell, 'unsafe', says);
  }
}

interface LeftOnPart {
  count: number;
  worst: Mm;
  cell: number;
}

class Leftover {
  readonly parts = new Map<number, LeftOnPart>();

  add(part: number, cell: number, off: Mm): void {
    const s = this.parts.get(part) ?? { count: 0, worst: 0, cell };
    s.count++;
    if (off > s.worst) {
      s.worst = off;
      s.cell = cell;
    }
    this.parts.set(part, s);
  }
}

function area(f: Field, count: number): string {
  return (count * f.cell ** 2).toFixed(2);
}

/** What both kinds of finding say of the worst cell of a part. */
function worstOf(f: Field, s: LeftOnPart) {
  const at = [centreX(f, s.cell % f.cols), centreY(f, Math.floor(s.cell / f.cols))] as const;
  const remedy = 'correct the depths or the coverage of the passes';
  return { at: { program: 0, block: 0, at }, size: s.worst, remedy };
}
