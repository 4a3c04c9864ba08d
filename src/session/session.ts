/**
 * A job under work: read, planned and held, changed, tried with other tabs, finished. It owns the tables of all that is worked out on
 * the way, which go when it goes. Nothing else keeps state, so two sessions never meet.
 */
import { bad, good, type Outcome } from '../base/problem.ts';
import { Stopped, Tables } from '../base/tables.ts';
import type { Mm } from '../base/units.ts';
import type { Point } from '../geometry/types.ts';
import type { HoldRequest, Job } from '../part/part.ts';
import { jobAsking, readJob } from '../part/read.ts';
import { abilitiesOf } from '../write/post.ts';
import { compareWays, type WayScore } from './compare.ts';
import { type Context, findPost, named, type SessionOptions } from './context.ts';
import { type Held, heldOf } from './held.ts';
import { keepEqual } from './keep-equal.ts';
import { finished, type Made, type Noted } from './made.ts';

/** Long work either comes to its end or is broken off, as asked; then the session is as it was before. */
export type SessionAnswer<T> =
  | { readonly kind: 'answered'; readonly outcome: Outcome<T> }
  | { readonly kind: 'stopped' };

/** Tabs to be tried: places on the edge in part axes; sizes left out are the job's own, or chosen. */
export interface TabsToTry {
  readonly at: readonly Point[];
  readonly width?: Mm;
  readonly height?: Mm;
  readonly lightenTo?: Mm;
}

export interface Compared {
  readonly job: Job;
  readonly scores: readonly WayScore[];
}

/** Reads the job; refused: it cannot be read, or its post is not there. Nothing is planned yet. */
export function openSession(text: string, options: SessionOptions): Outcome<Session> {
  const context = { options, tables: new Tables(options.stopped) };
  const job = readJob(text, options.file, { read: options.read, post: options.postName });
  return job.ok ? good(new Session(job, context), job.problems) : job;
}

export class Session {
  readonly #context: Context;
  #job: Noted<Job>;

  constructor(job: Noted<Job>, context: Context) {
    this.#context = context;
    this.#job = job;
  }

  get job(): Job {
    return this.#job.value;
  }

  /** Another text of the job. Refused: the session keeps the job it had. What is equal in both is not worked out again. */
  change(text: string): Outcome<Job> {
    const { file, read, postName } = this.#context.options;
    const job = readJob(text, file, { read, post: postName });
    if (!job.ok) return job;
    this.#job = { value: keepEqual(this.job, job.value), problems: job.problems };
    return good(this.job, job.problems);
  }

  /** Plan and holding of the job. */
  hold(): SessionAnswer<Held> {
    return this.#answer(() => this.#held(this.job));
  }

  /** The job held by tabs at these places; the session's own job stays. */
  tryTabs(tabs: TabsToTry): SessionAnswer<Held> {
    return this.#answer(() => this.#held(jobAsking(this.job, withTabs(this.job.hold, tabs))));
  }

  /** Every way of holding the part, best first. */
  compare(): SessionAnswer<Compared> {
    return this.#answer(() => {
      const post = findPost(this.#context, this.job);
      if (!post.ok) return post;
      const scores = named(compareWays(this.job, abilitiesOf(post.value), this.#context.tables), this.#context);
      if (!scores.ok) return scores;
      return good({ job: this.job, scores: scores.value }, [...this.#job.problems, ...scores.problems]);
    });
  }

  /** Programs, their check, and all that sheet and page show. `report.faults` says whether they may be released. */
  finish(): SessionAnswer<Made> {
    return this.#answer(() => {
      const job = this.#job;
      const post = findPost(this.#context, job.value);
      if (!post.ok) return post;
      this.#context.options.say?.('planning and holding');
      const held = this.#held(job.value);
      // What was doubted in reading may explain the refusal.
      return held.ok ? finished({ job, post, held }, this.#context) : bad(...job.problems, ...held.problems);
    });
  }

  #held(job: Job): Outcome<Held> {
    this.#context.tables.mayStop();
    return named(heldOf(job, this.#context.tables), this.#context);
  }

  #answer<T>(work: () => Outcome<T>): SessionAnswer<T> {
    try {
      return { kind: 'answered', outcome: work() };
    } catch (thrown) {
      if (thrown instanceof Stopped) return { kind: 'stopped' };
      throw thrown;
    }
  }
}

/** Screws that hold the part stay beside the tabs that are tried. */
function withTabs(hold: HoldRequest, { at, width, height, lightenTo }: TabsToTry): HoldRequest {
  const own = hold.by === 'tabs' || hold.by === 'screws' ? hold.tabs : null;
  const tabs = {
    count: null,
    width: width ?? own?.width ?? null,
    height: height ?? own?.height ?? null,
    lightenTo: lightenTo ?? own?.lightenTo ?? null,
    at,
  };
  return hold.by === 'screws' ? { ...hold, tabs } : { by: 'tabs', tabs };
}
