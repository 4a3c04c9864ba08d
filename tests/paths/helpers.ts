/** Shared by the tests of paths: a sample with its stages, and the strokes of a program as read back. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { CanonicalMove } from '../../src/check/language/canonical.ts';
import { readProgram } from '../../src/check/language/read.ts';
import { dist } from '../../src/geometry/measure/point.ts';
import { arc, line } from '../../src/geometry/measure/segment.ts';
import type { Loop, Segment } from '../../src/geometry/types.ts';
import type { Made } from '../../src/job.ts';
import type { Move, Moves, PostAbilities } from '../../src/paths/moves.ts';
import { makeMoves } from '../../src/paths/paths.ts';
import { abilitiesOf, readPost } from '../../src/write/post.ts';
import { mustMake, ROOT, shippedPost } from '../helpers.ts';

export function sample(name: string, post = 'standard'): Made {
  return mustMake(readFileSync(join(ROOT, 'samples', `${name}.json`), 'utf8'), { file: `${name}.json`, post });
}

export function abilities(name: string): PostAbilities {
  const post = readPost(shippedPost(name), name);
  if (!post.ok) throw new Error(`post ${name} does not read`);
  return abilitiesOf(post.value);
}

/** The moves again, with a changed holding or post. */
export function movesOf(made: Made, change: Partial<Pick<Made, 'job' | 'plan' | 'holding'>>, post: string): Moves {
  const { job, plan, holding } = { ...made, ...change };
  const moves = makeMoves(job, plan, holding, abilities(post), []);
  if (!moves.ok) throw new Error(JSON.stringify(moves.problems));
  return moves.value;
}

export interface Cut {
  readonly path: Segment;
  readonly za: number;
  readonly zb: number;
  readonly tool: number | null;
  readonly block: number;
}

/** Feed moves of a text as read back. */
export function cutsOf(text: string): Cut[] {
  return readProgram(text).moves.flatMap(cutOf);
}

function cutOf(m: CanonicalMove): Cut[] {
  if (m.kind !== 'feed' && m.kind !== 'arc') return [];
  const { x: ax, y: ay, z: za } = m.from;
  const { x: bx, y: by, z: zb } = m.to;
  if (ax === null || ay === null || za === null || bx === null || by === null || zb === null) return [];
  const a = { x: ax, y: ay };
  const b = { x: bx, y: by };
  const rest = { za, zb, tool: m.tool, block: m.block };
  if (m.kind !== 'arc') return [{ path: line(a, b), ...rest }];
  const { x, y } = m.centre;
  if (x === null || y === null) return [];
  const centre = { x, y };
  const start = Math.atan2(a.y - y, a.x - x);
  return [{ path: { ...arc(centre, dist(a, centre), start, m.sweep), a, b }, ...rest }];
}

export function kinds(moves: readonly Move[]): string[] {
  return moves.map((m) => m.kind);
}

/** Counter-clockwise from its lower left corner. */
export function rectangle(x: number, y: number, wide: number, high: number): Loop {
  const corners = [
    { x, y },
    { x: x + wide, y },
    { x: x + wide, y: y + high },
    { x, y: y + high },
  ];
  return corners.map((a, i) => line(a, corners[(i + 1) % 4]!));
}

/** Counter-clockwise, as two halves that share their ends. */
export function circle(x: number, y: number, radius: number): Loop {
  const first = arc({ x, y }, radius, 0, Math.PI);
  const second = arc({ x, y }, radius, Math.PI, Math.PI);
  return [
    { ...first, b: second.a },
    { ...second, b: first.a },
  ];
}
