import { bad, fault, good, type Outcome, type Problem } from '../base/problem.ts';
import { SAME_POINT } from '../base/tolerance.ts';
import type { Mm } from '../base/units.ts';
import { type HullDisc, hull, isWithin } from './hull.ts';
import { type JoinOutcome, unite } from './join.ts';
import { whereIs } from './measure/inside.ts';
import { dist } from './measure/point.ts';
import { type OffsetOutcome, offsetRegion } from './offset/offset.ts';
import { checkPoint, checkSize, circle } from './shapes.ts';
import type { Loop, Point, Region, Segment } from './types.ts';

export interface BossesAndWebs {
  readonly bosses: readonly HullDisc[];
  /** Pairs of indexes into `bosses`; the chain 0-1, 1-2, ... when left out. */
  readonly webs?: readonly (readonly [number, number])[] | undefined;
  /** Radius of the inside corners where webs meet; sharp when left out or 0. */
  readonly fillet?: Mm | undefined;
}

/**
 * Outline of round bosses joined by webs, counter-clockwise. A web is the hull of its two bosses: two tangent lines and two
 * arcs, so a lever of two bosses is exactly four pieces. `fillet` rounds inside corners by arcs of exactly that
 * radius, tangent to both sides; everything else stays where it was (morphological closing: grow, then shrink).
 *
 * Faults: `no-bosses`, `not-a-length`, `no-size`, `web-unknown-boss`, `web-to-itself`, `boss-inside-another`,
 * `bosses-apart`, `webs-enclose-opening`, `outline-not-closed`. Paths count from the outline: `bosses[1].radius`.
 */
export function bossesAndWebs(shape: BossesAndWebs): Outcome<Loop> {
  const webs = shape.webs ?? shape.bosses.slice(1).map((_, i) => [i, i + 1] as const);
  const problems = [...bossProblems(shape.bosses), ...filletProblems(shape.fillet)];
  if (problems.length === 0) problems.push(...insideProblems(shape.bosses), ...webProblems(shape.bosses, webs));
  if (problems.length > 0) return bad(...problems);
  const sharp = oneLoop(unite(discsAndHulls(shape.bosses, webs)), shape.bosses);
  return sharp.ok && shape.fillet ? rounded(sharp.value, shape.fillet) : sharp;
}

function discsAndHulls(bosses: readonly HullDisc[], webs: readonly (readonly [number, number])[]): Region[] {
  const hulls = webs.map(([i, j]) => hull(bosses[i]!, bosses[j]!));
  const lone = bosses.filter((_, i) => !webs.some((w) => w.includes(i)));
  const discs = lone.flatMap((b) => {
    const loop = circle(b.at, 2 * b.radius);
    return loop.ok ? [loop.value] : [];
  });
  return [...hulls, ...discs].map((outer) => ({ outer, holes: [] }));
}

function oneLoop(joined: JoinOutcome | OffsetOutcome, bosses: readonly HullDisc[]): Outcome<Loop> {
  if (joined.kind === 'failed') return bad(notClosed(joined.reason));
  const [first, second] = joined.kind === 'regions' ? joined.regions : [];
  if (first === undefined) return bad(notClosed('nothing is left'));
  if (second !== undefined) return bad(apart(first, bosses));
  if (first.holes.length > 0) return bad(encloses(first.holes[0]![0]!.a));
  return good(first.outer);
}

/** A hollow whose mouth is narrower than twice the fillet is bridged there, and reported as an opening. */
function rounded(sharp: Loop, fillet: Mm): Outcome<Loop> {
  const grown = offsetRegion({ outer: sharp, holes: [] }, fillet);
  if (grown.kind !== 'regions') return bad(notClosed(grown.kind === 'failed' ? grown.reason : 'nothing is left'));
  const closed = oneLoop(offsetRegion(grown.regions[0]!, -fillet), []);
  return closed.ok ? good(likeBefore(closed.value, sharp)) : closed;
}

/** Pieces that growing and shrinking brought back to where they were, give or take rounding, get their old numbers back. */
function likeBefore(loop: Loop, before: Loop): Loop {
  const points = before.map((s) => s.a);
  const old = (p: Point): Point => points.find((q) => dist(p, q) <= SAME_POINT) ?? p;
  return loop.map((s): Segment => {
    if (s.kind === 'line') return { kind: 'line', a: old(s.a), b: old(s.b) };
    const match = before.find(
      (t) => t.kind === 'arc' && dist(t.centre, s.centre) <= SAME_POINT && Math.abs(t.radius - s.radius) <= SAME_POINT,
    );
    const arc = match?.kind === 'arc' ? match : s;
    const same = dist(arc.a, s.a) <= SAME_POINT && dist(arc.b, s.b) <= SAME_POINT;
    return {
      ...s,
      a: old(s.a),
      b: old(s.b),
      centre: arc.centre,
      radius: arc.radius,
      sweep: same ? arc.sweep : s.sweep,
    };
  });
}

function bossProblems(bosses: readonly HullDisc[]): Problem[] {
  if (bosses.length === 0)
    return [
      fault({
        code: 'no-bosses',
        found: 'the list of bosses is empty',
        wanted: 'at least one boss',
        remedy: 'add a boss',
      }),
    ];
  return bosses.flatMap((b, i) => {
    const problem = checkPoint(b.at, `bosses[${i}].at`) ?? checkSize(b.radius, `bosses[${i}].radius`);
    return problem ? [problem] : [];
  });
}

function filletProblems(fillet: Mm | undefined): Problem[] {
  const problem = fillet === undefined || fillet === 0 ? undefined : checkSize(fillet, 'fillet');
  return problem ? [problem] : [];
}

function insideProblems(bosses: readonly HullDisc[]): Problem[] {
  const problems: Problem[] = [];
  for (const [j, b] of bosses.entries()) {
    const i = bosses.findIndex((a, k) => k < j && isWithin(a, b, SAME_POINT));
    if (i < 0) continue;
    const [inner, outer] = b.radius <= bosses[i]!.radius ? [j, i] : [i, j];
    const found = `boss ${inner + 1} lies inside boss ${outer + 1}`;
    const wanted = 'bosses that stand out of each other';
    const remedy = 'leave the smaller boss out, or move it';
    problems.push(fault({ code: 'boss-inside-another', at: { path: `bosses[${inner}]` }, found, wanted, remedy }));
  }
  return problems;
}

function webProblems(bosses: readonly HullDisc[], webs: readonly (readonly [number, number])[]): Problem[] {
  return webs.flatMap((web, k) => {
    const place = { path: `webs[${k}]` };
    const unknown = web.find((i) => !bosses[i]);
    if (unknown !== undefined) {
      const wanted = `indexes from 0 to ${bosses.length - 1}`;
      const found = `web ${k + 1} names a boss by the index ${unknown}`;
      return [fault({ code: 'web-unknown-boss', at: place, found, wanted, remedy: 'correct the index' })];
    }
    if (web[0] !== web[1]) return [];
    const found = `web ${k + 1} joins boss ${web[0] + 1} to itself`;
    return [fault({ code: 'web-to-itself', at: place, found, wanted: 'two bosses', remedy: 'correct an index' })];
  });
}

function apart(first: Region, bosses: readonly HullDisc[]): Problem {
  const alone = Math.max(
    0,
    bosses.findIndex((b) => whereIs(first.outer, b.at) === 'outside'),
  );
  const found = `boss ${alone + 1} is not joined to the others`;
  const wanted = 'one part: every boss joined to the others by webs';
  return fault({ code: 'bosses-apart', at: { path: `bosses[${alone}]` }, found, wanted, remedy: 'add a web' });
}

function encloses(p: Point): Problem {
  const found = 'the webs enclose an opening';
  const wanted = 'an outline of one edge; openings are pockets that go through';
  const remedy = 'leave one web out, or give the outer edge as vertices and the opening as a pocket with "through"';
  return fault({ code: 'webs-enclose-opening', at: { path: 'webs', at: [p.x, p.y] }, found, wanted, remedy });
}

function notClosed(reason: string): Problem {
  return fault({
    code: 'outline-not-closed',
    found: reason,
    wanted: 'one closed outline',
    remedy: 'move a boss or change a radius by a hundredth',
  });
}
