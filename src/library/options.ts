/** How a program hands a job to the library. */
import { bad, fault, good, type Outcome } from '../base/problem.ts';
import type { SessionOptions } from '../session/context.ts';
import { builtIn } from './built-in.ts';

/** The text of a job file (comments allowed), or the same as an object. */
export type JobSource = string | object;

export interface LibraryOptions {
  /** Name of a built-in post, `standard`, `plain`, `lines` or `inch`, or a post as an object; else the job's own. */
  readonly post?: string | object;
  /** Drawings, machine and cutter files that the job names, as text or bytes. */
  readonly files?: Readonly<Record<string, string | Uint8Array>>;
  /** Name of the job file in messages, and of a job that has none; `job.json` unless said. */
  readonly file?: string;
  /** Told what is being done. */
  readonly say?: (stage: string) => void;
}

/** Asked during long work by a session; yes breaks it off. */
export interface StoppableOptions extends LibraryOptions {
  readonly stopped?: () => boolean;
}

export function textOf(job: JobSource): string {
  return typeof job === 'string' ? job : JSON.stringify(job, null, 1);
}

export function sessionOptions({
  post,
  files = {},
  file = 'job.json',
  say,
  stopped,
}: StoppableOptions): SessionOptions {
  const own = typeof post === 'object' ? post : undefined;
  const name = typeof post === 'string' ? post : own && nameOf(own);
  return {
    file,
    read: (wanted) => given(files, wanted),
    post: (wanted) => (own !== undefined && wanted === name ? own : postNamed(wanted)),
    ...(name === undefined ? {} : { postName: name }),
    ...(say === undefined ? {} : { say }),
    ...(stopped === undefined ? {} : { stopped }),
  };
}

/** What is no name is refused with the rest of the post. */
function nameOf(post: object): string {
  return 'name' in post && typeof post.name === 'string' ? post.name : 'given';
}

function postNamed(name: string): unknown {
  const { posts } = builtIn();
  return Object.hasOwn(posts, name) ? posts[name] : undefined;
}

function given(files: NonNullable<LibraryOptions['files']>, name: string): Outcome<string | Uint8Array> {
  if (Object.hasOwn(files, name)) return good(files[name]!);
  return bad(
    fault({
      code: 'file-missing',
      found: `${name}: no such file`,
      wanted: 'a file that was handed over with the job',
      remedy: `give it as files: { "${name}": ... }`,
    }),
  );
}
