/** A stub asked for, checked against the part: where it stands, that it points outward, and that the edge there carries its width. */
import { type Deg, type Mm, toDeg, toRad } from '../base/units.ts';
import { distanceToLoop } from '../geometry/measure/distance.ts';
import { loopLength, pointAlong, positionOf } from '../geometry/measure/loop.ts';
import { add, angleOf, dot, fromAngle, scale, sub } from '../geometry/measure/point.ts';
import { chordRun } from '../geometry/offset/run.ts';
import type { Loop, Point } from '../geometry/types.ts';
import type { Desk } from './desk.ts';
import { forbidding, isWithin, onEdge } from './on-edge.ts';
import type { HoldRequest, Part } from './part.ts';
import type { KeyPath } from './schema/jsonc.ts';
import type { RawHold } from './schema/schema.ts';

type RawStub = Extract<RawHold, { by: 'stub' }>;

/** Directions say to which side the stub stands; it is cut square to the edge. Further off it was meant for another place. */
const MOST_ASKEW: Deg = 45;
/** What is not worth a word. */
const SQUARE: Deg = 0.5;

/** The direction that comes back is the edge's outward normal. undefined: a fault has been told. */
export function readStub(raw: RawStub, part: Part, desk: Desk): HoldRequest | undefined {
  const path: KeyPath = ['hold', 'at'];
  const edge = part.outline.loop;
  const at =
    typeof raw.at === 'number' ? onBoss(raw.at, raw.direction, part, path, desk) : onEdge(edge, raw.at, path, desk);
  if (at === undefined) return undefined;
  const normal = normalNear(edge, at, raw.direction);
  const askew = Math.abs(turnBetween(raw.direction, normal));
  if (askew > MOST_ASKEW) {
    const where = askew > 180 - MOST_ASKEW ? 'points into the part' : 'runs along the edge';
    desk.fault({
      code: 'stub-direction',
      at: ['hold', 'direction'],
      point: at,
      found: `the stub at ${desk.sayPoint(at)} ${where}`,
      wanted: `a direction away from the part: the edge faces ${degrees(normal)} there`,
      remedy: 'turn it outward',
    });
    return undefined;
  }
  if (askew > SQUARE) desk.assume(`The stub stands square to the edge, at ${degrees(normal)}.`);
  if (!carries(at, normal, raw.width, edge, desk)) return undefined;
  if (!isFree(at, raw.width, part, desk)) return undefined;
  return { by: 'stub', at, directionDeg: normal, width: raw.width };
}

function degrees(deg: Deg): string {
  return `${Number(deg.toFixed(1))} degrees`;
}

const LITTLE: Mm = 0.01;

/** Where the ray from the boss's centre leaves it; that place must be edge, not web. */
function onBoss(index: number, direction: Deg, part: Part, path: KeyPath, desk: Desk): Point | undefined {
  const { source } = part.outline;
  const boss = source.kind === 'bosses' ? source.bosses[index] : undefined;
  if (boss === undefined) {
    const found = source.kind === 'bosses' ? `no boss has the index ${index}` : 'the outline has no bosses';
    desk.fault({
      code: 'stub-on-nothing',
      at: path,
      found,
      wanted: 'the index of a boss, counted from 0, or [x, y] on the edge',
      remedy: 'write a place on the edge',
    });
    return undefined;
  }
  const at = add(boss.at, scale(fromAngle(toRad(direction)), boss.radius));
  if (distanceToLoop(part.outline.loop, at) < LITTLE) return at;
  desk.fault({
    code: 'stub-on-nothing',
    at: ['hold', 'direction'],
    point: at,
    found: `at ${direction} degrees boss ${index + 1} runs into a web`,
    wanted: 'a direction in which the boss has an edge',
    remedy: 'turn the stub',
  });
  return undefined;
}

/** At a corner the edge faces two ways: the one nearer to what was asked. Outlines run counter-clockwise. */
function normalNear(edge: Loop, at: Point, wanted: Deg): Deg {
  const s = positionOf(edge, at)?.s ?? 0;
  const faces = [s, s - CORNER, s + CORNER].map((where) => {
    const d = pointAlong(edge, where)?.direction ?? { x: 1, y: 0 };
    return toDeg(angleOf({ x: d.y, y: -d.x }));
  });
  const off = (deg: Deg) => Math.abs(turnBetween(wanted, deg));
  return faces.reduce((a, b) => (off(b) < off(a) - SQUARE ? b : a));
}

const CORNER: Mm = 1e-3;

/** From one direction to another, -180 to 180. */
function turnBetween(a: Deg, b: Deg): Deg {
  return ((((b - a + 180) % 360) + 360) % 360) - 180;
}

/** How far the edge may fall back under half the stub, of its width: at half it is a half circle as wide as the stub. */
const MOST_FALL = 0.4;

function carries(at: Point, normal: Deg, width: Mm, edge: Loop, desk: Desk): boolean {
  const out = fromAngle(toRad(normal));
  const run = chordRun(edge, positionOf(edge, at)?.s ?? 0, width);
  const fall = (s: Mm) => -dot(sub(pointAlong(edge, s)?.point ?? at, at), out);
  const fits = run.kind === 'run' && fall(run.from) <= MOST_FALL * width && fall(run.to) <= MOST_FALL * width;
  if (fits) return true;
  desk.fault({
    code: 'stub-too-wide',
    at: ['hold', 'width'],
    point: at,
    found: `a stub ${desk.say(width)} wide at ${desk.sayPoint(at)}, where the part itself is not so wide`,
    wanted: 'a stub narrower than the boss or flat that it stands on',
    remedy: 'make the stub narrower, or let it stand elsewhere',
  });
  return false;
}

function isFree(at: Point, width: Mm, part: Part, desk: Desk): boolean {
  const edge = part.outline.loop;
  const length = loopLength(edge);
  const s = positionOf(edge, at)?.s ?? 0;
  const under = [-width / 2, 0, width / 2].map((d) => pointAlong(edge, (s + d + length) % length)?.point ?? at);
  const why = forbidding(part, (n) => under.some((p) => isWithin(p, n, part)));
  if (why === null) return true;
  desk.fault({
    code: 'stub-on-no-tab',
    at: ['hold', 'at'],
    point: at,
    found: `the stub at ${desk.sayPoint(at)} stands ${why.where}`,
    wanted: 'a stub where one may stand',
    remedy: `move the stub${why.remedy}`,
  });
  return false;
}
