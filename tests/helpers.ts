/** Running the whole flow in a test, without files. */
import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { bad, describeProblem, fault, good, type Outcome } from '../src/base/problem.ts';
import { type Made, makeJob } from '../src/job.ts';
import { makeMoves } from '../src/paths/paths.ts';
import { abilitiesOf, readPost } from '../src/write/post.ts';
import type { WrittenProgram } from '../src/write/program.ts';
import { writePrograms } from '../src/write/write.ts';

export const ROOT = process.env.TWROOT ?? resolve(import.meta.dirname, '..');

export function readBesides(folder: string): (name: string) => Outcome<string> {
  return (name) => {
    try {
      return good(readFileSync(join(folder, name), 'utf8'));
    } catch {
      return bad(fault({ code: 'file-missing', found: name, wanted: '', remedy: '' }));
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

/** A shipped sample, made; by one name in every test file, so that files of one process share it. */
export function mustMakeSample(name: string): Made {
  return mustMake(readFileSync(join(ROOT, 'samples', `${name}.json`), 'utf8'), { file: `samples/${name}.json` });
}

const made = new Map<string, Made>();
const KEPT = 40;

/**
 * A made job's programs by another post. Plan and holding do not depend on the post (tests/golden.test.ts makes a sample by two posts
 * from the beginning), so only paths and text are made again.
 */
export function programsUnder(first: Made, postName: string): readonly WrittenProgram[] {
  const post = readPost(shippedPost(postName), postName);
  if (!post.ok) throw new Error(postName);
  const cautions = first.moves.programs[0]!.head.cautions;
  const moves = makeMoves({
    job: first.job,
    plan: first.plan,
    holding: first.holding,
    post: abilitiesOf(post.value),
    cautions,
  });
  if (!moves.ok) throw new Error(moves.problems.map(describeProblem).join('\n'));
  return writePrograms(moves.value, post.value, first.job.name);
}
