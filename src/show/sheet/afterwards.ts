/** From the last line of the program to the finished part. */

import { esc } from '../markup/element.ts';
import { list, sentence } from '../markup/html.ts';
import { inProse, sized, type Units } from './figures.ts';
import type { SheetInput } from './input.ts';

export function cleanUp(input: SheetInput, u: Units): string {
  return list([...freeing(input, u), ...DEBURR.map((t) => inProse(u, t))].map(esc), 'ol');
}

function freeing(input: SheetInput, u: Units): string[] {
  const { holding: h } = input;
  const steps = [
    'Spindle off and isolated, brush the plate clean, then take it off the machine with the parts still in it.',
  ];
  if (h.by === 'screws') steps.push('Take the screws out last; hold each part while its last screw comes out.');
  if (h.by === 'floor' && h.floor !== null) {
    steps.push(
      `Saw or file through the ${sized(u, h.floor)} floor from below, with the part backed by a block; file back to the edge.`,
    );
  }
  if (h.by === 'glue') {
    steps.push(
      'Loosen the glue by gentle heat or by its solvent, with the window open; slide a thin blade under, do not prise the part up.',
    );
  }
  if (h.stubs.length > 0) {
    const chamfered = input.job.part.chamfer > 0 ? ', and chamfer it by file to meet the rest' : '';
    steps.push(
      'Saw out each part with its stub and a piece of the frame still on it: that piece is what to hold.',
      `Hold the part in soft jaws, never by the stub alone, and saw the stub through half a millimetre outside the edge; it is ${sized(u, h.stubs[0]!.width)} wide and as thick as the plate.`,
      `File the stump down to the edge, about ${sized(u, h.stubs[0]!.footprint)} along it, across first, then draw-file; try it against a boss of the finished edge${chamfered}.`,
    );
  }
  if (h.tabs.length > 0) {
    const thin = h.tabs.some((t) => t.cutHeight > t.height);
    steps.push(
      thin
        ? 'The tabs are thinned: saw each with a piercing saw or file it through. Do not bend the part off: that pulls its edge.'
        : 'Saw each tab with a piercing saw, close to the frame, not to the part.',
      'Saw the last tab with the part held in soft jaws or in the hand vice, never hanging free.',
      'File the stumps down to the edge, across the edge first, then draw-file along it; leave no flat on a round end.',
    );
  }
  return steps;
}

const DEBURR: readonly string[] = [
  'Deburr the underside before the part is laid down or held a second time: it must lie flat on its own face.',
  'Break the edges that are not chamfered by 0.1 to 0.2 mm; leave working edges sharp where the drawing wants them so.',
  'Measure as listed, before the next part is cut.',
];

export function benchWork(input: SheetInput): string {
  return list(input.plan.bench.map((b) => esc(sentence(b))));
}
