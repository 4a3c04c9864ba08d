/** A post: one dialect of RS-274 as data, checked at the door. Every value carries its source or reason. */

import * as z from 'zod';
import { tenToThe } from '../base/powers.ts';
import { bad, fault, good, type Outcome } from '../base/problem.ts';
import { nearest } from '../base/text.ts';
import { MM_PER_INCH } from '../base/units.ts';
import type { PostAbilities } from '../paths/moves.ts';

function stated<T extends z.ZodType>(value: T) {
  return z.strictObject({ is: value, because: z.string().min(8) });
}

const postSchema = z.strictObject({
  name: z.string().regex(/^[a-z][a-z0-9-]*$/),
  about: z.string().min(8),
  extension: stated(z.string().regex(/^[a-z0-9]{1,5}$/)),
  units: stated(z.enum(['mm', 'inch'])),
  decimals: stated(z.int().min(3).max(6)),
  feedDecimals: stated(z.int().min(0).max(4)),
  arcs: stated(z.boolean()),
  chord: stated(z.number().positive().max(0.004)),
  cycles: stated(z.boolean()),
  tappingCycle: stated(z.boolean()),
  cutterChange: stated(z.enum(['code', 'stop'])),
  programPerCutter: stated(z.boolean()),
  lengths: stated(z.enum(['touch', 'table'])),
  pathControl: stated(z.enum(['G61', 'G61.1'])),
  frame: stated(z.enum(['%', 'none'])),
  mist: stated(z.boolean()),
  flood: stated(z.boolean()),
});

type PostFile = z.infer<typeof postSchema>;

type PostValues = { readonly [K in keyof PostFile]: PostFile[K] extends { is: infer V } ? V : PostFile[K] };

/** The post's values without their reasons. Written out, so that the library's types need no other package's. */
export interface Post {
  readonly name: string;
  readonly about: string;
  readonly extension: string;
  readonly units: 'mm' | 'inch';
  readonly decimals: number;
  readonly feedDecimals: number;
  readonly arcs: boolean;
  readonly chord: number;
  readonly cycles: boolean;
  readonly tappingCycle: boolean;
  readonly cutterChange: 'code' | 'stop';
  readonly programPerCutter: boolean;
  readonly lengths: 'touch' | 'table';
  readonly pathControl: 'G61' | 'G61.1';
  readonly frame: '%' | 'none';
  readonly mist: boolean;
  readonly flood: boolean;
}

/** Reads the parsed JSON of a post file. Faults name the file, the key and the nearest known key. */
export function readPost(data: unknown, file: string): Outcome<Post> {
  const parsed = postSchema.safeParse(data);
  if (!parsed.success) return bad(...parsed.error.issues.map((issue) => postFault(issue, file)));
  const flat: Record<string, unknown> = {};
  for (const [key, value] of Object.entries(parsed.data)) {
    flat[key] = typeof value === 'object' ? value.is : value;
  }
  const post: Post = flat as PostValues;
  const roundingRoom = post.units === 'mm' ? 4 : 5;
  if (post.arcs && post.decimals < roundingRoom) {
    return bad(
      fault({
        code: 'post-decimals',
        at: { file, path: 'decimals.is' },
        found: `${post.decimals} decimals with arcs in ${post.units}`,
        wanted: `at least ${roundingRoom} (NISTIR 6556 section 3.5.3.2)`,
        remedy: 'raise "decimals" or set "arcs" to false',
      }),
    );
  }
  return good(post);
}

function postFault(issue: z.core.$ZodIssue, file: string) {
  const path = issue.path.join('.');
  if (issue.code === 'unrecognized_keys') {
    const key = issue.keys[0] ?? '';
    const near = nearest(key, path === '' ? Object.keys(postSchema.shape) : ['is', 'because']);
    const remedy = near ? `did you mean "${near}"?` : 'remove it';
    return fault({
      code: 'unknown-key',
      at: { file, path },
      found: `the key "${key}" in a post`,
      wanted: 'a key the post file knows',
      remedy,
    });
  }
  return fault({
    code: 'post-value',
    at: { file, path },
    found: `${path}: ${issue.message}`,
    wanted: 'a value as in posts/standard.json',
    remedy: 'correct the post file',
  });
}

/** What the path stage needs to know to lower its moves to this post. */
export function abilitiesOf(post: Post): PostAbilities {
  const unit = post.units === 'mm' ? 1 : MM_PER_INCH;
  return {
    units: post.units,
    arcs: post.arcs,
    cycles: post.cycles,
    tappingCycle: post.tappingCycle,
    cutterChange: post.cutterChange,
    programPerCutter: post.programPerCutter,
    lengths: post.lengths,
    mist: post.mist,
    flood: post.flood,
    grid: unit * tenToThe(-post.decimals),
    chord: post.chord,
  };
}
