/** Running the whole flow in a test, without files. */
import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { bad, describeProblem, fault, good, type Outcome } from '../src/base/problem.ts';
import { type Made, makeJob } from '../src/job.ts';

export const ROOT = process.env.TWROOT ?? resolve(import.meta.dirname, '..');

export function readBesides(folder: string): (name: string) => Outcome<string> {
  return (name) => {
    try {
      return good(readFileSync(join(folder, name), 'utf8'));
    } catch {
      return bad(fault('file-missing', name, '', ''));
    }
  };
}

export function shippedPost(name: string): unknown {
  try {
    return JSON.parse(readFileSync(join(ROOT, 'posts', `${name}.json`), 'utf8'));
  } catch {
    return undefined;
  }
}

export function makeText(text: string, options: { file?: string; post?: string; folder?: string } = {}): Outcome<Made> {
  return makeJob({
    text,
    file: options.file ?? 'job.json',
    read: readBesides(options.folder ?? join(ROOT, 'samples')),
    post: shippedPost,
    ...(options.post === undefined ? {} : { postName: options.post }),
  });
}

/** The made job, or a failed test that says why not. What was made of a sample before in the same process is given again. */
export function mustMake(text: string, options: { file?: string; post?: string; folder?: string } = {}): Made {
  const key = JSON.stringify([text, options.file, options.post, options.folder]);
  const known = made.get(key);
  if (known) return known;
  const out = makeText(text, options);
  if (!out.ok) throw new Error(`refused:\n${out.problems.map(describeProblem).join('\n')}\n${text}`);
  made.set(key, out.value);
  if (made.size > KEPT) made.delete(made.keys().next().value!);
  return out.value;
}

const made = new Map<string, Made>();
const KEPT = 40;
