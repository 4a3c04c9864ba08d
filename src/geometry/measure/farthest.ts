import { arccosine } from '../../base/angles.ts';
import type { Mm } from '../../base/units.ts';
import type { Arc, Line, Point, Segment } from '../types.ts';
import { angleOf, cross, dot, fromAngle, isZero, rot90, sub } from './point.ts';
import { nearestOn, pointAt } from './segment.ts';
import { fractionOfAngle, startAngle } from './sweep.ts';

/**
 * Greatest distance from any point of `path` to the curve `edge`, exact.
 *
 * Along the path the distance to a line or arc is one of a few smooth functions: to an end, to the whole line, to the
 * whole circle. Its greatest value is at an end of the path, at a stationary point of one of them, or where one takes
 * over from another; all those places are listed and tried.
 */
export function greatestDistance(path: Segment, edge: Segment): Mm {
  let most = 0;
  for (const t of [0, 1, ...places(path, edge)]) {
    most = Math.max(most, nearestOn(edge, pointAt(path, t)).distance);
  }
  return most;
}

function places(path: Segment, edge: Segment): number[] {
  const ends = [edge.a, edge.b].flatMap((p) => stationary(path, p));
  if (edge.kind === 'line') {
    const along = sub(edge.b, edge.a);
    if (isZero(along)) return ends;
    const feet = [edge.a, edge.b].flatMap((p) => onLine(path, p, rot90(along)));
    return [...ends, ...feet, ...stationaryToLine(path, along)];
  }
  // Beyond both ends of the sweep the nearer end changes on the bisector.
  const rays = [sub(edge.a, edge.centre), sub(edge.b, edge.centre), fromAngle(startAngle(edge) + edge.sweep / 2)];
  return [...ends, ...stationary(path, edge.centre), ...rays.flatMap((d) => onLine(path, edge.centre, d))];
}

/** Where the distance to a point is stationary. */
function stationary(path: Segment, p: Point): number[] {
  return path.kind === 'line' ? onLine(path, p, rot90(sub(path.b, path.a))) : bothWays(path, sub(p, path.centre));
}

/** Where the distance to a line of this direction is stationary: nowhere on a line, square to it on an arc. */
function stationaryToLine(path: Segment, along: Point): number[] {
  return path.kind === 'line' ? [] : bothWays(path, rot90(along));
}

function bothWays(path: Arc, direction: Point): number[] {
  return [angleOf(direction), angleOf({ x: -direction.x, y: -direction.y })].flatMap((angle) => atAngle(path, angle));
}

function atAngle(path: Arc, angle: number): number[] {
  const t = fractionOfAngle(path, angle);
  return t === undefined ? [] : [t];
}

/** Where the path crosses the whole line through p. */
function onLine(path: Segment, p: Point, along: Point): number[] {
  if (path.kind === 'line') return lineOnLine(path, p, along);
  const l2 = dot(along, along);
  if (l2 === 0) return [];
  const toLine = cross(along, sub(path.centre, p)) / Math.sqrt(l2);
  if (Math.abs(toLine) > path.radius) return [];
  // The line's left normal points from the line to the centre when toLine > 0.
  const away = arccosine(-toLine / path.radius);
  const normal = angleOf(rot90(along));
  return [...atAngle(path, normal + away), ...atAngle(path, normal - away)];
}

function lineOnLine(path: Line, p: Point, along: Point): number[] {
  const d = sub(path.b, path.a);
  const rate = cross(along, d);
  if (rate === 0) return [];
  const t = cross(along, sub(p, path.a)) / rate;
  return t > 0 && t < 1 ? [t] : [];
}
