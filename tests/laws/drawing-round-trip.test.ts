/** A sample, its outline written as a drawing, and the same job reading that drawing: the same program, byte for byte. Levers: levers.test.ts. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { mustMake, mustMakeSample, ROOT } from '../helpers.ts';
import { FULL } from '../runs.ts';
import { throughDrawing } from './through-drawing.ts';

const SAMPLES = ['lifting-lever', 'warning-lever', 'click', 'rack-arm'];

/** Samples carry comments; none of their strings holds two slashes. */
function stripComments(text: string): string {
  return text.replace(/\/\/.*$/gm, '').replace(/,(\s*[}\]])/g, '$1');
}

describe('job to drawing to job', () => {
  // Each sample through one of the formats, each format by two samples; all through both with `LAWS=full`.
  const ways = SAMPLES.flatMap((s, i) => [[s, 'dxf', i] as const, [s, 'svg', i + 1] as const]).filter(
    ([, , n]) => FULL || n % 2 === 0,
  );

  it.each(ways)('%s through %s gives the same program', (sample, format) => {
    const job = JSON.parse(stripComments(readFileSync(join(ROOT, 'samples', `${sample}.json`), 'utf8')));
    // A drawing has no bosses by number, so stretches named by boss are left out of both jobs.
    const named = job.part.noTabs?.some((n: object) => 'boss' in n) ?? false;
    if (named) delete job.part.noTabs;
    const text = JSON.stringify(job);
    const first = named ? mustMake(text) : mustMakeSample(sample);
    expect(throughDrawing(text, first, format)).toEqual(first.programs.map((p) => p.text));
  });
});
