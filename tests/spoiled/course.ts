/**
 * A small interpreter of the programs that `make` writes, in no way related to the reader that is being tried: plain words, three
 * axes, millimetres out. It is there to say where a fault can be planted and what a changed program would really do.
 */
import type { Text } from './jobs.ts';
import { linesOf } from './text.ts';

export interface P3 {
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

export interface Move {
  readonly program: number;
  /** Index of the line, from 0. */
  readonly line: number;
  readonly kind: 'rapid' | 'feed' | 'arc';
  readonly from: P3;
  readonly to: P3;
  /** Of an arc: its centre and whether it turns clockwise. */
  readonly centre: { readonly x: number; readonly y: number };
  readonly clockwise: boolean;
  readonly tool: number;
  readonly feed: number;
  readonly speed: number;
  readonly turning: 'M3' | 'M4' | 'M5';
  /** G number of the drilling cycle that made it, else 0. */
  readonly cycle: number;
  /** Words of the last `(Operation ...)`. */
  readonly operation: string;
}

interface State {
  x: number;
  y: number;
  z: number;
  motion: number;
  unit: number;
  absolute: boolean;
  tool: number;
  next: number;
  feed: number;
  speed: number;
  turning: Move['turning'];
  operation: string;
  back: 'initial' | 'r';
  r: number;
  depth: number;
}

/** Kept by the list and by each text, since most of a changed program is the good one. */
export function courseOf(programs: readonly Text[]): readonly Move[] {
  const known = courses.get(programs) ?? programs.flatMap((p, program) => keptCourse(p, program));
  courses.set(programs, known);
  return known;
}

const courses = new WeakMap<readonly Text[], readonly Move[]>();
const ofText = new WeakMap<Text, { readonly program: number; readonly moves: readonly Move[] }>();

function keptCourse(text: Text, program: number): readonly Move[] {
  const known = ofText.get(text);
  if (known?.program === program) return known.moves;
  const moves = oneCourse(text, program);
  ofText.set(text, { program, moves });
  return moves;
}

function oneCourse(text: Text, program: number): Move[] {
  const named = text.text.match(/\(CUTTER (\d+) /g) ?? [];
  const only = named.length === 1 ? Number(named[0]!.match(/\d+/)![0]) : 0;
  const s: State = {
    ...{ x: NaN, y: NaN, z: NaN, motion: 0, unit: 1, absolute: true, tool: only, next: 0, feed: 0, speed: 0 },
    ...{ turning: 'M5' as const, operation: '', back: 'initial' as const, r: NaN, depth: NaN },
  };
  const moves: Move[] = [];
  for (const [line, raw] of linesOf(text).entries()) {
    const operation = raw.match(/^\((Operation .*)\)/);
    if (operation !== null) s.operation = operation[1]!;
    if (raw.startsWith('(') || raw.startsWith('%')) continue;
    if (step(s, wordsOf(raw), program, line, moves)) break;
  }
  return moves;
}

interface Words {
  readonly w: ReadonlyMap<string, number>;
  readonly g: readonly number[];
  readonly m: readonly number[];
}

/** Of lines read before: a changed program has all but a few of the good one's. */
const read = new Map<string, Words>();
const MOST_LINES = 200_000;

function wordsOf(raw: string): Words {
  const known = read.get(raw);
  if (known !== undefined) return known;
  const words = [...raw.matchAll(/([A-Z])([-+]?(?:\d+\.?\d*|\.\d+))/g)].map((m): [string, number] => [
    m[1]!,
    Number(m[2]),
  ]);
  const codes = (letter: string) => words.filter(([w]) => w === letter).map(([, v]) => v);
  const found = { w: new Map(words.filter(([w]) => w !== 'G' && w !== 'M')), g: codes('G'), m: codes('M') };
  if (read.size >= MOST_LINES) read.clear();
  read.set(raw, found);
  return found;
}

/** True at the program's end. */
function step(s: State, { w, g, m }: Words, program: number, line: number, out: Move[]): boolean {
  if (g.includes(20)) s.unit = 25.4;
  if (g.includes(21)) s.unit = 1;
  if (g.includes(90)) s.absolute = true;
  if (g.includes(91)) s.absolute = false;
  if (g.includes(98)) s.back = 'initial';
  if (g.includes(99)) s.back = 'r';
  s.feed = w.has('F') ? w.get('F')! * s.unit : s.feed;
  s.speed = w.get('S') ?? s.speed;
  s.next = w.get('T') ?? s.next;
  if (m.includes(6)) [s.tool, s.turning] = [s.next, 'M5'];
  for (const code of [3, 4, 5] as const) if (m.includes(code)) s.turning = `M${code}`;
  const motion = g.find((c) => c <= 3 || (c >= 80 && c <= 89));
  if (motion !== undefined) {
    if (motion !== s.motion) [s.r, s.depth] = [NaN, NaN];
    s.motion = motion;
  }
  if (w.has('X') || w.has('Y') || w.has('Z')) travel(s, w, program, line, out);
  if (m.includes(0) || m.includes(6)) [s.x, s.y, s.z] = [NaN, NaN, NaN];
  return m.includes(2) || m.includes(30);
}

function travel(s: State, w: ReadonlyMap<string, number>, program: number, line: number, out: Move[]): void {
  const axis = (letter: string, now: number) =>
    w.has(letter) ? w.get(letter)! * s.unit + (s.absolute ? 0 : now) : now;
  const to = { x: axis('X', s.x), y: axis('Y', s.y), z: axis('Z', s.z) };
  const common = {
    program,
    line,
    tool: s.tool,
    feed: s.feed,
    speed: s.speed,
    turning: s.turning,
    operation: s.operation,
  };
  const centre = { x: s.x + (w.get('I') ?? 0) * s.unit, y: s.y + (w.get('J') ?? 0) * s.unit };
  const go = (kind: Move['kind'], end: P3, cycle = 0) => {
    const from = { x: s.x, y: s.y, z: s.z };
    out.push({ ...common, kind, from, to: end, centre, clockwise: s.motion === 2, cycle });
    [s.x, s.y, s.z] = [end.x, end.y, end.z];
  };
  if (s.motion === 0) go('rapid', to);
  else if (s.motion === 1) go('feed', to);
  else if (s.motion === 2 || s.motion === 3) go('arc', to);
  else if (s.motion > 80) {
    if (w.has('R')) s.r = w.get('R')! * s.unit;
    if (w.has('Z')) s.depth = w.get('Z')! * s.unit;
    const start = s.z;
    go('rapid', { x: to.x, y: to.y, z: Math.max(start, s.r) }, s.motion);
    go('rapid', { x: to.x, y: to.y, z: s.r }, s.motion);
    go('feed', { x: to.x, y: to.y, z: s.depth }, s.motion);
    const up = s.motion === 85 || s.motion === 84 ? 'feed' : 'rapid';
    go(up, { x: to.x, y: to.y, z: s.r }, s.motion);
    if (s.back === 'initial') go('rapid', { x: to.x, y: to.y, z: Math.max(start, s.r) }, s.motion);
  }
}

/** Turn of an arc, radians, negative clockwise; a whole turn where both ends are the same. */
export function sweepOf(m: Move): number {
  const a = Math.atan2(m.from.y - m.centre.y, m.from.x - m.centre.x);
  const b = Math.atan2(m.to.y - m.centre.y, m.to.x - m.centre.x);
  const turn = 2 * Math.PI;
  const ccw = (((b - a) % turn) + turn) % turn;
  const same = Math.hypot(m.from.x - m.to.x, m.from.y - m.to.y) < 1e-6;
  if (m.clockwise) return same ? -turn : ccw - turn;
  return same ? turn : ccw;
}

/** A point of the move, f from 0 to 1. */
export function pointOf(m: Move, f: number): P3 {
  const z = m.from.z + (m.to.z - m.from.z) * f;
  if (m.kind !== 'arc') return { x: m.from.x + (m.to.x - m.from.x) * f, y: m.from.y + (m.to.y - m.from.y) * f, z };
  const r = Math.hypot(m.from.x - m.centre.x, m.from.y - m.centre.y);
  const a = Math.atan2(m.from.y - m.centre.y, m.from.x - m.centre.x) + sweepOf(m) * f;
  return { x: m.centre.x + r * Math.cos(a), y: m.centre.y + r * Math.sin(a), z };
}

export function lengthOf(m: Move): number {
  const flat =
    m.kind === 'arc'
      ? Math.abs(sweepOf(m)) * Math.hypot(m.from.x - m.centre.x, m.from.y - m.centre.y)
      : Math.hypot(m.to.x - m.from.x, m.to.y - m.from.y);
  return Math.hypot(flat, m.to.z - m.from.z);
}
