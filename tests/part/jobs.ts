/** A small sound job for tests to spoil, and how to read it. */
import { expect } from 'vitest';
import type { Problem } from '../../src/base/problem.ts';
import { bad, fault } from '../../src/base/problem.ts';
import type { ReadFile } from '../../src/part/drawings.ts';
import type { Job } from '../../src/part/part.ts';
import { readJob } from '../../src/part/read.ts';
import { leverOnPlate } from '../lever-job.ts';

export type Loose = any;

export function lever(): Loose {
  return { ...leverOnPlate(), name: 'lifting lever', units: 'mm', stock: { size: [75, 30, 4], flatness: 0.05 } };
}

/** The lever, changed. */
export function leverWith(change: (job: Loose) => void): Loose {
  const job = lever();
  change(job);
  return job;
}

/** For jobs that name no files. */
const noFiles: ReadFile = (name) => bad(fault({ code: 'file-missing', found: name, wanted: '', remedy: '' }));

export function read(job: Loose, files: ReadFile = noFiles) {
  return readJob(typeof job === 'string' ? job : JSON.stringify(job, null, 1), 'job.json', { read: files });
}

export function readGood(job: Loose, files: ReadFile = noFiles): Job {
  const outcome = read(job, files);
  expect(outcome.problems.filter((p) => p.severity === 'fault')).toEqual([]);
  if (!outcome.ok) throw new Error('not read');
  return outcome.value;
}

export function faults(job: Loose, files: ReadFile = noFiles): readonly Problem[] {
  const outcome = read(job, files);
  expect(outcome.ok).toBe(false);
  return outcome.problems.filter((p) => p.severity === 'fault');
}

/** The one fault of a job, which must have a place. */
export function theFault(job: Loose, files: ReadFile = noFiles): Problem {
  const all = faults(job, files);
  expect(all.map((p) => p.code)).toHaveLength(1);
  expect(all[0]!.place.file).toBeDefined();
  return all[0]!;
}
