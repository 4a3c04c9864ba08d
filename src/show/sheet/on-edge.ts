/** The set-ups after the first: how the part stands for each hole from its edge. */
import type { EdgeStand } from '../../plan/plan.ts';
import { esc } from '../markup/element.ts';
import { fileName, list, para, sentence } from '../markup/html.ts';
import { edgeDrawing } from './drawing/edge-drawing.ts';
import { fig, inProse, type Units } from './figures.ts';
import type { SheetInput } from './input.ts';

export function edgeSetups(input: SheetInput, u: Units): string {
  return input.plan.setups
    .flatMap((s, i) => (s.edge === null ? [] : [one(input, u, s.edge, i, s.operations[0]?.stopBefore?.lines ?? [])]))
    .join('\n');
}

function one(input: SheetInput, u: Units, edge: EdgeStand, setup: number, lines: readonly string[]): string {
  const { svg, scale } = edgeDrawing(u, edge, setup);
  const programs = input.programs.filter((p) => p.setup === setup).map((p) => p.file);
  const grip = `The jaws must press with ${fig(`setups.${setup}.hold.grip`, `${edge.grip}`, 'plain')} N or more: twice what keeps the heaviest drill’s thrust from slipping the part between two smooth faces, if nothing lay under it.`;
  return [
    `<h3>Set-up ${setup + 1}: edge hole ${edge.hole.index + 1}, ${programs.map(fileName).join(', ')}</h3>`,
    `<figure>${svg}</figure>`,
    para(
      `Front view, ${scale.text}, running dimensions from the zero, ${u.name}. Dashed: the hole; long-dashed double-dotted: top of the jaws.`,
    ),
    list([...lines.map((l) => inProse(u, esc(sentence(l)))), grip]),
  ].join('\n');
}
