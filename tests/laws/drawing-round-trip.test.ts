/** A job, its outline written as a drawing, and the same job reading that drawing: the same program, byte for byte. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { good, type Outcome } from '../../src/base/problem.ts';
import { type Made, makeJob } from '../../src/job.ts';
import { outlineDxf } from '../../src/show/drawing/dxf.ts';
import { outlineSvg } from '../../src/show/drawing/svg.ts';
import { mustMake, ROOT, readBesides, shippedPost } from '../helpers.ts';
import { FULL, runs, SEED } from '../runs.ts';
import { randomLever } from './random-lever.ts';

const FORMATS = ['dxf', 'svg'] as const;
const SAMPLES = ['lifting-lever', 'warning-lever', 'click', 'rack-arm'];

function asDrawing(text: string, first: Made, format: 'dxf' | 'svg'): Outcome<Made> {
  const contents = { name: first.job.name, outlines: [first.job.part.outline.loop] };
  const drawing = format === 'dxf' ? outlineDxf(contents) : outlineSvg(contents);
  const job = JSON.parse(stripComments(text));
  job.part.outline = { [format]: `outline.${format}` };
  const beside = readBesides(join(ROOT, 'samples'));
  return makeJob({
    text: JSON.stringify(job),
    file: 'job.json',
    read: (name) => (name === `outline.${format}` ? good(drawing) : beside(name)),
    post: shippedPost,
  });
}

/** A drawing has no bosses by number, so stretches named by boss are left out of both jobs. */
function withoutBosses(text: string): string {
  const job = JSON.parse(stripComments(text));
  delete job.part.noTabs;
  return JSON.stringify(job);
}

/** Samples carry comments; none of their strings holds two slashes. */
function stripComments(text: string): string {
  return text.replace(/\/\/.*$/gm, '').replace(/,(\s*[}\]])/g, '$1');
}

function programs(made: Outcome<Made>): string[] {
  if (!made.ok) throw new Error(made.problems.map((p) => `${p.code} ${p.found}`).join('\n'));
  return made.value.programs.map((p) => p.text);
}

describe('job to drawing to job', () => {
  // Each sample through one of the formats, each format by two samples; all through both with `LAWS=full`.
  const ways = SAMPLES.flatMap((s, i) => [[s, 'dxf', i] as const, [s, 'svg', i + 1] as const]).filter(
    ([, , n]) => FULL || n % 2 === 0,
  );

  it.each(ways)('%s through %s gives the same program', (sample, format) => {
    const text = withoutBosses(readFileSync(join(ROOT, 'samples', `${sample}.json`), 'utf8'));
    const first = mustMake(text);
    expect(programs(asDrawing(text, first, format))).toEqual(first.programs.map((p) => p.text));
  });

  it('random levers too', () => {
    let seen = 0;
    for (let i = 0; i < runs(40); i++) {
      const lever = randomLever(SEED + 1000 + i);
      const first = mustMake(lever.text);
      // One of the formats by turns; both with `LAWS=full`.
      for (const format of FULL ? FORMATS : [FORMATS[i % 2]!]) {
        expect(programs(asDrawing(lever.text, first, format)), `seed ${lever.seed}, ${format}`).toEqual(
          first.programs.map((p) => p.text),
        );
        seen++;
      }
    }
    expect(seen).toBe((FULL ? 2 : 1) * runs(40));
  });
});
