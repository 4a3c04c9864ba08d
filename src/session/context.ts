/** What a session works with besides the job: where files come from, how programs are spelt, whom it tells, and its tables. */
import { bad, fault, good, type Outcome } from '../base/problem.ts';
import type { Tables } from '../base/tables.ts';
import type { Job } from '../part/part.ts';
import type { ReadJobOptions } from '../part/read.ts';
import { type Post, readPost } from '../write/post.ts';

export interface SessionOptions {
  /** Name of the job file for messages; other files are found beside it. */
  readonly file: string;
  readonly read: ReadJobOptions['read'];
  /** Parsed JSON of a post file by name; undefined when there is none. */
  readonly post: (name: string) => unknown;
  /** Overrules the job's own post. */
  readonly postName?: string;
  /** Told what is being done, for a person who waits. */
  readonly say?: (stage: string) => void;
  /** Asked every few milliseconds of long work: yes breaks it off. */
  readonly stopped?: () => boolean;
}

export interface Context {
  readonly options: SessionOptions;
  readonly tables: Tables;
}

export function findPost({ options }: Context, job: Job): Outcome<Post> {
  const name = job.post;
  const data = options.post(name);
  if (data !== undefined) return readPost(data, `posts/${name}.json`);
  return bad(
    fault({
      code: 'unknown-post',
      at: { file: options.file, path: 'post' },
      found: `the post "${name}"`,
      wanted: 'the name of a file in posts/: standard, plain, lines, inch',
      remedy: 'use one of these, or add a post file',
    }),
  );
}

/** Later stages know key paths only; the file is named here. */
export function named<T>(outcome: Outcome<T>, { options: { file } }: Context): Outcome<T> {
  if (outcome.ok) return good(outcome.value, outcome.problems);
  return bad(...outcome.problems.map((p) => ({ ...p, place: { file, ...p.place } })));
}
