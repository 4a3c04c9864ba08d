/** The head of a program: what only the plan chose, in the program's own units, so that the text alone can be proved. */
import { MM_PER_INCH } from '../base/units.ts';
import type { HeadFacts } from '../paths/moves.ts';
import { commentLines, commentText } from './comment.ts';
import { spell } from './number.ts';
import type { Post } from './post.ts';

export function headLines(head: HeadFacts, post: Post): string[] {
  const size = (v: number) => spell(post.units === 'mm' ? v : v / MM_PER_INCH, post.decimals);
  const angle = (v: number) => spell(v, 4);
  const xyz = (p: readonly [number, number, number]) => `X${size(p[0])} Y${size(p[1])} Z${size(p[2])}`;
  const { number, of, setup } = head.program;
  const setupNumber = head.program.setupNumber > 1 ? `set-up ${head.program.setupNumber}, ` : '';
  const facts = [
    `ZERO ${head.zero}`,
    `STOCK ${xyz(head.stock.min)} TO ${xyz(head.stock.max)}`,
    ...head.parts.map(
      (p, i) =>
        `PART ${i + 1} AT X${size(p.at.x)} Y${size(p.at.y)} TURN ${angle(p.turnDeg)} MIRROR ${p.mirror ? 'yes' : 'no'}`,
    ),
    ...head.cutters.map((c) => `CUTTER ${c.number} ${c.kind} D${size(c.diameter)}`),
    ...holdFacts(head, size, angle),
    ...head.tabs.map(
      (t, i) =>
        `TAB ${i + 1} PART ${t.part + 1} AT X${size(t.at.x)} Y${size(t.at.y)} DIRECTION ${angle(t.directionDeg)}` +
        ` WIDTH ${size(t.width)} HEIGHT ${size(t.height)} FOOTPRINT ${size(t.footprint)}`,
    ),
  ];
  return [
    ...commentLines(`${head.job}: ${setupNumber}program ${number} of ${of}, ${setup}`),
    ...commentLines(`Material ${head.material}. Lengths in ${post.units === 'mm' ? 'millimetres' : 'inches'}.`),
    // Facts stay on one line each whatever their length: they are read back by the check.
    ...facts.map((f) => `(${commentText(f)})`),
    ...head.cautions.flatMap((c) => commentLines(c)),
  ];
}

function holdFacts(head: HeadFacts, size: (v: number) => string, angle: (v: number) => string): string[] {
  const h = head.hold;
  switch (h.by) {
    case 'floor':
      return [`HOLD floor ${size(h.thickness)}`];
    case 'jaws':
      return [`HOLD jaws EDGE HOLE ${h.edgeHole + 1} BOSS ${h.boss + 1} DIRECTION ${angle(h.directionDeg)}`];
    case 'screws':
      return [`HOLD screws ${h.thread}`];
    case 'stub':
      return h.stubs.map(
        (s) =>
          `HOLD stub PART ${s.part + 1} AT X${size(s.at.x)} Y${size(s.at.y)} DIRECTION ${angle(s.directionDeg)}` +
          ` WIDTH ${size(s.width)} FOOTPRINT ${size(s.footprint)}`,
      );
    case 'glue':
    case 'tabs':
      return [`HOLD ${h.by}`];
  }
}
