/** A job's outline written as a drawing, and the same job reading that drawing. */
import { join } from 'node:path';
import { good, type Outcome } from '../../src/base/problem.ts';
import { type Made, makeJob } from '../../src/job.ts';
import { outlineDxf } from '../../src/show/drawing/dxf.ts';
import { outlineSvg } from '../../src/show/drawing/svg.ts';
import { ROOT, readBesides, shippedPost } from '../helpers.ts';

export type Format = 'dxf' | 'svg';

/** Programs of a job without comments, whose outline comes from a drawing of `first`, which was made of the same job. */
export function throughDrawing(text: string, first: Made, format: Format): string[] {
  const contents = { name: first.job.name, outlines: [first.job.part.outline.loop] };
  const drawing = format === 'dxf' ? outlineDxf(contents) : outlineSvg(contents);
  const job = JSON.parse(text);
  job.part.outline = { [format]: `outline.${format}` };
  const beside = readBesides(join(ROOT, 'samples'));
  return programsOf(
    makeJob({
      text: JSON.stringify(job),
      file: 'job.json',
      read: (name) => (name === `outline.${format}` ? good(drawing) : beside(name)),
      post: shippedPost,
    }),
  );
}

function programsOf(made: Outcome<Made>): string[] {
  if (!made.ok) throw new Error(made.problems.map((p) => `${p.code} ${p.found}`).join('\n'));
  return made.value.programs.map((p) => p.text);
}
