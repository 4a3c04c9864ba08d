/** The programs of the samples, word for word. `npm run golden` remakes the expected ones; then read the diff. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { checkTexts } from '../src/job.ts';
import cases from './cases/cases.json' with { type: 'json' };
import { mustMake, mustMakeSample, programsUnder, ROOT } from './helpers.ts';

const CASES = join(ROOT, 'tests/cases');
const SAMPLES = readdirSync(join(ROOT, 'samples'))
  .filter((f) => f.endsWith('.json'))
  .map((f) => basename(f, '.json'));
const also: Readonly<Record<string, readonly string[]>> = cases.also;
const LISTED = SAMPLES.flatMap((sample) => [...cases.every, ...(also[sample] ?? [])].map((post) => [sample, post]));

function filesUnder(folder: string): string[] {
  return existsSync(folder) ? readdirSync(folder).sort() : [];
}

describe('golden programs', () => {
  it('are asked for of every sample', () => {
    expect(SAMPLES.length).toBeGreaterThanOrEqual(6);
    expect(Object.keys(also).filter((s) => !SAMPLES.includes(s))).toEqual([]);
  });

  it.each(LISTED)('%s by post %s is as stored', (sample, post) => {
    const made = mustMakeSample(sample!);
    const programs = post === made.post.name ? made.programs : programsUnder(made, post!);
    expect(checkTexts(programs, made.job).faults).toEqual([]);
    const folder = join(CASES, sample!, post!);
    expect(filesUnder(folder)).toEqual(programs.map((p) => p.file).sort());
    for (const p of programs) expect(p.text).toBe(readFileSync(join(folder, p.file), 'utf8'));
  });

  it('are what the whole flow makes by another post too', () => {
    const text = readFileSync(join(ROOT, 'samples/click.json'), 'utf8');
    const whole = mustMake(text, { file: 'samples/click.json', post: 'plain' });
    expect(programsUnder(mustMakeSample('click'), 'plain')).toEqual(whole.programs);
  });

  it('has no orphans: every stored program belongs to a listed case', () => {
    const stored = filesUnder(CASES).flatMap((sample) =>
      sample === 'cases.json' ? [] : filesUnder(join(CASES, sample)).map((post) => `${sample}/${post}`),
    );
    expect(stored.sort()).toEqual(LISTED.map(([sample, post]) => `${sample}/${post}`).sort());
  });
});
