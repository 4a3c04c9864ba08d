import { bad, fault, good, type Outcome, type Problem } from '../base/problem.ts';
import { SAME_POINT } from '../base/tolerance.ts';
import type { Mm } from '../base/units.ts';
import { hull } from './hull.ts';
import { loopArea, orient } from './measure/loop.ts';
import { dist } from './measure/point.ts';
import { arc, arcFromBulge, splitAt } from './measure/segment.ts';
import { FARTHEST } from './offset/ready.ts';
import type { Loop, Point } from './types.ts';

/** `[x, y]` or `[x, y, bulge]`; bulge as in DXF: tan of a quarter of the included angle, positive counter-clockwise. */
export type OutlineVertex = readonly [Mm, Mm] | readonly [Mm, Mm, number];

/**
 * Closed outline through vertices, counter-clockwise whatever the order given. A vertex equal to the one before it is
 * left out. Whether it crosses itself is asked of `validate.ts`.
 * Faults: `not-a-length`, `too-few-points`, `no-area`. Paths count from the list itself: `[3]`.
 */
export function fromVertices(vertices: readonly OutlineVertex[]): Outcome<Loop> {
  const wrong = vertices.findIndex((v) => !v.every(isLength));
  if (wrong >= 0) return bad(notALength(`vertex ${wrong} is ${vertices[wrong]!.join(', ')}`, `[${wrong}]`));
  const kept = vertices.filter((v, i) => !isSame(v, vertices[(i + 1) % vertices.length]!) || vertices.length === 1);
  const least = kept.some((v) => v[2]) ? 2 : 3;
  if (kept.length < least) {
    const found = `the outline has ${kept.length} separate ${kept.length === 1 ? 'point' : 'points'}`;
    return bad(
      fault({ code: 'too-few-points', found, wanted: `at least ${least}`, remedy: 'give every corner once, in order' }),
    );
  }
  const loop = kept.map(([x, y, bulge], i) => {
    const next = kept[(i + 1) % kept.length]!;
    return arcFromBulge({ x, y }, { x: next[0], y: next[1] }, bulge ?? 0);
  });
  const flat = loop.findIndex((s) => s.kind === 'arc' && !(s.radius <= 10 * FARTHEST));
  if (flat >= 0) return bad(notALength(`the bulge of vertex ${flat} gives an arc of no usable radius`, `[${flat}]`));
  if (Math.abs(loopArea(loop)) <= SAME_POINT) {
    return bad(
      fault({
        code: 'no-area',
        found: 'the outline encloses no area',
        wanted: 'a closed outline round an area',
        remedy: 'check order and signs',
      }),
    );
  }
  return good(orient(loop, 'ccw'));
}

/** Whole circle as two half circles, from its point of greatest x. Faults: `not-a-length`, `no-size`. */
export function circle(at: Point, diameter: Mm): Outcome<Loop> {
  const problem = checkPoint(at, 'at') ?? checkSize(diameter, 'diameter');
  return problem ? bad(problem) : good(splitAt(arc(at, diameter / 2, 0, 2 * Math.PI), 0.5));
}

/** Straight slot with round ends about `from` and `to`. Faults: `not-a-length`, `no-size`. */
export function slot(from: Point, to: Point, width: Mm): Outcome<Loop> {
  const problem =
    checkPoint(from, 'from') ??
    checkPoint(to, 'to') ??
    checkSize(width, 'width') ??
    (dist(from, to) <= SAME_POINT
      ? fault({
          code: 'no-size',
          at: { path: 'to' },
          found: 'both ends of the slot are the same point',
          wanted: 'two points apart',
          remedy: 'give a circle instead',
        })
      : undefined);
  return problem ? bad(problem) : good(hull({ at: from, radius: width / 2 }, { at: to, radius: width / 2 }));
}

export function checkPoint(p: Point, path: string): Problem | undefined {
  return isLength(p.x) && isLength(p.y) ? undefined : notALength(`${path} is ${p.x}, ${p.y}`, path);
}

export function checkSize(size: Mm, path: string): Problem | undefined {
  if (!isLength(size)) return notALength(`${path} is ${size}`, path);
  if (size > MINIMUM_SIZE) return undefined;
  return fault({
    code: 'no-size',
    at: { path },
    found: `${path} is ${size} mm`,
    wanted: 'a length above zero',
    remedy: 'give the size in the units of the job',
  });
}

/** Smaller than any cutter could show; keeps sizes well above SAME_POINT. */
const MINIMUM_SIZE: Mm = 1e-3;

function isLength(v: number): boolean {
  return Math.abs(v) <= FARTHEST;
}

function notALength(found: string, path: string): Problem {
  return fault({
    code: 'not-a-length',
    at: { path },
    found,
    wanted: `numbers up to ${FARTHEST} mm`,
    remedy: 'correct the number',
  });
}

function isSame(v: OutlineVertex, w: OutlineVertex): boolean {
  return dist({ x: v[0], y: v[1] }, { x: w[0], y: w[1] }) <= SAME_POINT;
}
