/**
 * What the program's first comments state, and the events at their blocks. Figures are in the program's own units and come
 * out in millimetres; they are as rounded as they were written.
 */
import { type Deg, MM_PER_INCH, type Mm } from '../../base/units.ts';
import type { Point } from '../../geometry/types.ts';
import type { HoldKind } from '../../hold/holding.ts';
import type { ProgramComment } from '../language/canonical.ts';
import { isProse } from './prose.ts';

export interface Head {
  readonly zero: 'stock' | 'part' | null;
  readonly stock: { readonly min: Triple; readonly max: Triple } | null;
  readonly parts: readonly HeadPart[];
  readonly cutters: readonly HeadCutter[];
  readonly hold: HoldFact | null;
  readonly tabs: readonly HeadTab[];
  /** One line `HOLD stub PART ..` for each part. */
  readonly stubs: readonly HeadStub[];
  /** Of a program for a part on edge, indexes from 0: `HOLD jaws EDGE HOLE 1 BOSS 1 DIRECTION 90`. */
  readonly edge: HeadEdge | null;
  /** `lever: program 1 of 3, upper face`, when stated. */
  readonly program: { readonly number: number; readonly of: number; readonly block: number } | null;
  readonly setup: string | null;
  readonly events: readonly HeadEvent[];
  /** Where messages tell a person to touch the cutter off, and what Z is there. */
  readonly touches: readonly HeadTouch[];
  /** Bosses that messages say stand up, from 0. */
  readonly standing: readonly { readonly boss: number; readonly block: number }[];
  /** Where messages name the cutter to fit. */
  readonly fits: readonly { readonly number: number; readonly block: number }[];
  /** Comments that begin like a fact of the head and cannot be read. */
  readonly unread: readonly { readonly block: number; readonly text: string }[];
  /** Comments that begin so and are none, by their words. */
  readonly prose: readonly { readonly block: number; readonly text: string }[];
}

export interface HeadTouch {
  /** null: beside the work, at the height of its top. */
  readonly at: Point | null;
  readonly z: Mm;
  readonly block: number;
}

export type Triple = readonly [Mm, Mm, Mm];

export interface HeadPart {
  readonly number: number;
  readonly at: Point;
  readonly turnDeg: Deg;
  readonly mirror: boolean;
  readonly block: number;
}

export interface HeadEdge {
  readonly hole: number;
  readonly boss: number;
  readonly directionDeg: Deg;
  readonly block: number;
}

export interface HeadCutter {
  readonly number: number;
  readonly kind: string;
  readonly diameter: Mm;
  readonly block: number;
}

export interface HoldFact {
  readonly by: HoldKind;
  /** Thickness of the floor. */
  readonly figure: Mm | null;
  /** Thread of the screws. */
  readonly thread: string | null;
  readonly block: number;
}

export interface HeadTab {
  readonly number: number;
  /** Index of the part, from 0. */
  readonly part: number;
  readonly at: Point;
  readonly directionDeg: Deg;
  readonly width: Mm;
  readonly height: Mm;
  readonly footprint: Mm;
  readonly block: number;
}

export interface HeadStub {
  /** Index of the part, from 0. */
  readonly part: number;
  readonly at: Point;
  readonly directionDeg: Deg;
  readonly width: Mm;
  readonly footprint: Mm;
  readonly block: number;
}

export type HeadEvent =
  | { readonly kind: 'screws'; readonly holes: readonly number[]; readonly block: number }
  | { readonly kind: 'clamp'; readonly text: string; readonly block: number };

/** Spelt here and not taken from the holding stage: the check knows the contract's types only. */
const HOLD_KINDS: readonly HoldKind[] = ['tabs', 'floor', 'screws', 'glue', 'stub'];

const N = String.raw`([-+]?(?:\d+\.?\d*|\.\d+))`;
const TRIPLE = `X${N} Y${N} Z${N}`;

export function readHead(comments: readonly ProgramComment[], units: 'mm' | 'inch'): Head {
  const scale = units === 'inch' ? MM_PER_INCH : 1;
  const head = {
    zero: null as Head['zero'],
    stock: null as Head['stock'],
    parts: [] as HeadPart[],
    cutters: [] as HeadCutter[],
    hold: null as HoldFact | null,
    tabs: [] as HeadTab[],
    stubs: [] as HeadStub[],
    edge: null as HeadEdge | null,
    program: null as Head['program'],
    setup: null as string | null,
    events: [] as HeadEvent[],
    touches: [] as HeadTouch[],
    standing: [] as { boss: number; block: number }[],
    fits: [] as { number: number; block: number }[],
    unread: [] as { block: number; text: string }[],
    prose: [] as { block: number; text: string }[],
  };
  for (const c of comments) {
    const text = c.text.trim().replace(/\s+/g, ' ');
    for (const [start, read] of READERS) {
      if (!start.test(text)) continue;
      if (!read(text, c.block, scale, head)) (isProse(text) ? head.prose : head.unread).push({ block: c.block, text });
      break;
    }
  }
  return head;
}

/** Whether a comment states a fact of the head, or an event: all others need not be kept. */
export function isFact(comment: string): boolean {
  const text = comment.trim().replace(/\s+/g, ' ');
  return READERS.some(([start]) => start.test(text));
}

type HeadDraft = { -readonly [K in keyof Head]: Head[K] extends readonly (infer T)[] ? T[] : Head[K] };
type Reader = (text: string, block: number, scale: number, head: HeadDraft) => boolean;

const READERS: readonly (readonly [RegExp, Reader])[] = [
  [/^ZERO (stock|part)$/i, zero],
  [/^STOCK X/i, stock],
  [/^PART \d/i, part],
  [/^CUTTER \d+ .*D[\d.]+/i, cutter],
  [/^HOLD \w/i, hold],
  [/^TAB \d/i, tab],
  [/\bprogram \d+ of \d+/i, program],
  [/^SCREWS FITTED/i, screws],
  [/^CLAMPS? MOVED/i, clamp],
  [/^Touch off\b/i, touch],
  [/^Fit cutter \d+/i, fit],
  [/\bboss \d+ up\b/i, bossUp],
  [/^Upper face to the \w+/i, upperFace],
];

/** Each fact once: of two, one is false. */
function zero(text: string, _block: number, _scale: number, head: HeadDraft): boolean {
  if (head.zero !== null) return false;
  head.zero = /part/i.test(text) ? 'part' : 'stock';
  return true;
}

function stock(text: string, _block: number, scale: number, head: HeadDraft): boolean {
  const m = numbers(text, `^STOCK ${TRIPLE} TO ${TRIPLE}$`, scale);
  if (m === null || head.stock !== null) return false;
  head.stock = { min: [m[0]!, m[1]!, m[2]!], max: [m[3]!, m[4]!, m[5]!] };
  return true;
}

function part(text: string, block: number, scale: number, head: HeadDraft): boolean {
  const m = text.match(new RegExp(`^PART (\\d+) AT X${N} Y${N} TURN ${N} MIRROR (yes|no)$`, 'i'));
  if (m === null) return false;
  const at = { x: Number(m[2]) * scale, y: Number(m[3]) * scale };
  head.parts.push({ number: Number(m[1]), at, turnDeg: Number(m[4]), mirror: /yes/i.test(m[5]!), block });
  return true;
}

function cutter(text: string, block: number, scale: number, head: HeadDraft): boolean {
  const m = text.match(new RegExp(`^CUTTER (\\d+) ([a-z -]+?) D${N}\\b`, 'i'));
  if (m === null) return false;
  head.cutters.push({ number: Number(m[1]), kind: m[2]!.toLowerCase(), diameter: Number(m[3]) * scale, block });
  return true;
}

function hold(text: string, block: number, scale: number, head: HeadDraft): boolean {
  const m = text.match(/^HOLD (\w+)\s*(.*)$/i);
  if (/^jaws$/i.test(m?.[1] ?? '')) return jaws(m![2]!, block, head);
  const by = HOLD_KINDS.find((k) => k === m?.[1]?.toLowerCase());
  if (m === null || by === undefined) return false;
  const rest = m[2]!;
  if (by === 'stub') return stub(rest, block, scale, head);
  if (head.hold !== null) return false;
  const figure = by === 'floor' ? Number.parseFloat(rest) * scale : null;
  if (figure !== null && !(figure > 0)) return false;
  head.hold = { by, figure, thread: by === 'screws' && rest !== '' ? rest : null, block };
  return true;
}

function jaws(rest: string, block: number, head: HeadDraft): boolean {
  const m = rest.match(new RegExp(`^EDGE HOLE (\\d+) BOSS (\\d+) DIRECTION ${N}$`, 'i'))?.map(Number);
  if (m === undefined || head.hold !== null || head.edge !== null) return false;
  head.edge = { hole: m[1]! - 1, boss: m[2]! - 1, directionDeg: m[3]!, block };
  return true;
}

/** A line for each part; nothing else may be said to hold beside them. */
function stub(rest: string, block: number, scale: number, head: HeadDraft): boolean {
  const m = rest
    .match(new RegExp(`^PART (\\d+) AT X${N} Y${N} DIRECTION ${N} WIDTH ${N} FOOTPRINT ${N}$`, 'i'))
    ?.map(Number);
  if (m === undefined || (head.hold !== null && head.hold.by !== 'stub')) return false;
  const [, of, x, y, directionDeg, width, footprint] = m as [number, ...number[]];
  head.hold ??= { by: 'stub', figure: null, thread: null, block };
  head.stubs.push({
    part: of! - 1,
    at: { x: x! * scale, y: y! * scale },
    directionDeg: directionDeg!,
    width: width! * scale,
    footprint: footprint! * scale,
    block,
  });
  return true;
}

function tab(text: string, block: number, scale: number, head: HeadDraft): boolean {
  const pattern = `^TAB (\\d+) PART (\\d+) AT X${N} Y${N} DIRECTION ${N} WIDTH ${N} HEIGHT ${N} FOOTPRINT ${N}$`;
  const m = text.match(new RegExp(pattern, 'i'))?.map(Number);
  if (m === undefined) return false;
  const [, number, of, x, y, directionDeg, width, height, footprint] = m as [number, ...number[]];
  head.tabs.push({
    number: number!,
    part: of! - 1,
    at: { x: x! * scale, y: y! * scale },
    directionDeg: directionDeg!,
    width: width! * scale,
    height: height! * scale,
    footprint: footprint! * scale,
    block,
  });
  return true;
}

function program(text: string, block: number, _scale: number, head: HeadDraft): boolean {
  const m = text.match(/\bprogram (\d+) of (\d+)(?:, (.*))?$/i);
  if (m === null) return true;
  head.program = { number: Number(m[1]), of: Number(m[2]), block };
  head.setup = m[3] ?? null;
  return true;
}

function screws(text: string, block: number, _scale: number, head: HeadDraft): boolean {
  const rest = text.replace(/^SCREWS FITTED:?\s*/i, '');
  if (!/^\d+([ ,]+\d+)*$/.test(rest)) return false;
  head.events.push({ kind: 'screws', holes: rest.split(/[ ,]+/).map(Number), block });
  return true;
}

function clamp(text: string, block: number, _scale: number, head: HeadDraft): boolean {
  head.events.push({ kind: 'clamp', text, block });
  return true;
}

/** Words of another hand are no fault of the head, unless they say what Z is in a way that cannot be held against the stock. */
function touch(text: string, block: number, scale: number, head: HeadDraft): boolean {
  const on = numbers(text, ` at X ${N} Y ${N}: Z is ${N} there$`, scale);
  const beside = numbers(text, `^Touch off beside .*: Z is ${N} there$`, scale);
  if (on !== null) head.touches.push({ at: { x: on[0]!, y: on[1]! }, z: on[2]!, block });
  else if (beside !== null) head.touches.push({ at: null, z: beside[0]!, block });
  else return !/\bZ\b.*\d/i.test(text);
  return true;
}

/** How a person is told to stand a part on edge. */
function bossUp(text: string, block: number, _scale: number, head: HeadDraft): boolean {
  head.standing.push({ boss: Number(/\bboss (\d+) up\b/i.exec(text)![1]) - 1, block });
  return true;
}

/** The way in which every figure of such a program is reckoned: X to the right as one looks at the upper face. */
function upperFace(text: string): boolean {
  return /^Upper face to the front\b/i.test(text);
}

function fit(text: string, block: number, _scale: number, head: HeadDraft): boolean {
  head.fits.push({ number: Number(/\d+/.exec(text)![0]), block });
  return true;
}

function numbers(text: string, pattern: string, scale: number): number[] | null {
  const m = text.match(new RegExp(pattern, 'i'));
  return m === null ? null : m.slice(1).map((v) => Number(v) * scale);
}
