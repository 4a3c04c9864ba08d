/** A new job file from answers: always one that reads. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { newJob, START_QUESTIONS, type StartKey, startAnswers } from '../../src/part/start.ts';
import { MATERIAL_NAMES } from '../../src/trade/materials/material-rows.ts';
import { runs, SEED } from '../runs.ts';
import { readGood } from './jobs.ts';

const textOf = (given: Partial<Record<StartKey, string>>): string => {
  const answers = startAnswers(given);
  if (!answers.ok) throw new Error(answers.problems.map((p) => p.found).join('; '));
  return newJob(answers.value);
};

describe('start', () => {
  it.each(['mm', 'inch'])('the defaults in %s make a job that reads', (units) => {
    const job = readGood(textOf({ units }));
    expect(job.units).toBe(units);
    expect(job.part.holes).toHaveLength(2);
    expect(job.name).toBe('lever');
  });

  it.each(['auto', 'tabs', 'floor', 'screws', 'glue'])('hold by %s', (hold) => {
    expect(readGood(textOf({ hold })).hold.by).toBe(hold);
  });

  it('carries the answers over', () => {
    const job = readGood(
      textOf({
        name: 'click "two"',
        material: 'o1',
        thickness: '2',
        length: '14',
        radius: '4',
        endRadius: '3',
        bore: '3',
        endBore: '0',
        copies: '3',
      }),
    );
    expect(job).toMatchObject({ name: 'click "two"', material: 'O1' });
    expect(job.part.thickness).toBe(2);
    expect(job.part.outline.source).toMatchObject({ bosses: [{ radius: 4 }, { at: { x: 14, y: 0 }, radius: 3 }] });
    expect(job.part.holes).toHaveLength(1);
    expect(job.places).toHaveLength(3);
  });

  it('warns of a plate that the usual cutters may not go through', () => {
    const { problems } = startAnswers({ thickness: '12.6' });
    expect(problems).toMatchObject([{ code: 'start-thick', severity: 'caution' }]);
    expect(startAnswers({ thickness: '12.5' }).problems).toEqual([]);
    expect(startAnswers({ thickness: '0.5', units: 'inch' }).problems.map((p) => p.code)).toEqual(['start-thick']);
  });

  it('explains itself', () => {
    expect(
      textOf({})
        .split('\n')
        .filter((l) => l.trim().startsWith('//')).length,
    ).toBeGreaterThanOrEqual(6);
  });

  it('every question has words, a default that it accepts itself, and a key of its own', () => {
    expect(new Set(START_QUESTIONS.map((q) => q.key)).size).toBe(START_QUESTIONS.length);
    for (const q of START_QUESTIONS) {
      expect(q.text.length).toBeGreaterThan(3);
      for (const units of ['mm', 'inch'] as const) expect(q.parse(q.default[units]).ok).toBe(true);
    }
  });

  it('law: answers that are accepted make a job that reads; the others are refused in words', () => {
    let accepted = 0;
    let refused = 0;
    const number = (max: number) => fc.integer({ min: 0, max: max * 10 }).map((v) => String(v / 10));
    fc.assert(
      fc.property(
        fc.record({
          units: fc.constantFrom('mm', 'mm', 'inch'),
          material: fc.constantFrom(...MATERIAL_NAMES),
          thickness: number(10),
          length: number(60),
          radius: number(12),
          endRadius: number(12),
          bore: number(12),
          endBore: number(12),
          copies: fc.integer({ min: 1, max: 6 }).map(String),
          hold: fc.constantFrom('auto', 'tabs', 'floor', 'screws', 'glue'),
        }),
        (given) => {
          const answers = startAnswers(given);
          if (answers.ok) {
            accepted++;
            readGood(newJob(answers.value));
          } else {
            refused++;
            for (const p of answers.problems) expect(p.found + p.wanted + p.remedy).not.toMatch(/undefined|NaN/);
          }
        },
      ),
      { numRuns: runs(1500), seed: SEED },
    );
    expect(accepted).toBeGreaterThan(15);
    expect(refused).toBeGreaterThan(15);
  });

  it.each<[Partial<Record<StartKey, string>>, string]>([
    [{ thickness: 'thick' }, 'thickness'],
    [{ thickness: '0' }, 'thickness'],
    [{ thickness: '2,5' }, 'thickness'],
    [{ length: '-3' }, 'length'],
    [{ length: '1e9' }, 'length'],
    [{ material: 'brasss' }, 'material'],
    [{ units: 'cm' }, 'units'],
    [{ hold: 'hope' }, 'hold'],
    [{ copies: '0' }, 'copies'],
    [{ name: '  ' }, 'name'],
    [{ bore: '11.9' }, 'bore'],
    [{ length: '1', radius: '6', endRadius: '4' }, 'length'],
    [{ hold: 'glue', material: 'POM' }, 'hold'],
    [{ hold: 'screws', bore: '0', endBore: '0' }, 'hold'],
  ])('%j is refused at its key', (given, key) => {
    const answers = startAnswers(given);
    expect(answers.ok).toBe(false);
    expect(answers.problems.map((p) => p.place.path)).toContain(key);
    for (const p of answers.problems) expect(['start-answer', 'start-answers', 'unknown-material']).toContain(p.code);
  });
});
