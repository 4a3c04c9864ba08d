import type { Mm } from '../base/units.ts';
import type { Arc, Line, Segment } from './types.ts';

/** A quick look: true when two segments surely come no nearer than `tol`. False says nothing. */
export function surelyApart(p: Segment, q: Segment, tol: Mm): boolean {
  if (p.kind === 'line') return q.kind === 'line' ? onOneSide(p, q, tol) || onOneSide(q, p, tol) : offCircle(p, q, tol);
  return q.kind === 'line' ? offCircle(q, p, tol) : circlesApart(p, q, tol);
}

function onOneSide(l: Line, m: Line, tol: Mm): boolean {
  const dx = l.b.x - l.a.x;
  const dy = l.b.y - l.a.y;
  const least = tol * (Math.abs(dx) + Math.abs(dy));
  const a = dx * (m.a.y - l.a.y) - dy * (m.a.x - l.a.x);
  const b = dx * (m.b.y - l.a.y) - dy * (m.b.x - l.a.x);
  return (a > least && b > least) || (a < -least && b < -least);
}

/** The line passes the circle by, or lies within it. */
function offCircle(l: Line, { centre, radius }: Arc, tol: Mm): boolean {
  const ax = l.a.x - centre.x;
  const ay = l.a.y - centre.y;
  const bx = l.b.x - centre.x;
  const by = l.b.y - centre.y;
  const inner = Math.max(0, radius - tol);
  if (ax * ax + ay * ay < inner * inner && bx * bx + by * by < inner * inner) return true;
  const dx = bx - ax;
  const dy = by - ay;
  const rise = ax * dy - ay * dx;
  const outer = radius + tol;
  return rise * rise > outer * outer * (dx * dx + dy * dy);
}

function circlesApart(p: Arc, q: Arc, tol: Mm): boolean {
  const dx = q.centre.x - p.centre.x;
  const dy = q.centre.y - p.centre.y;
  const l2 = dx * dx + dy * dy;
  const outer = p.radius + q.radius + tol;
  const inner = Math.abs(p.radius - q.radius) - tol;
  return l2 > outer * outer || (inner > 0 && l2 < inner * inner);
}
