/** An outline of the job file to one sound counter-clockwise loop, with what it was made from. */
import type { Outcome, Problem } from '../base/problem.ts';
import { bossesAndWebs } from '../geometry/bosses.ts';
import { circle, fromVertices, slot } from '../geometry/shapes.ts';
import type { Loop } from '../geometry/types.ts';
import { type Defect, validateLoop } from '../geometry/validate.ts';
import type { Desk } from './desk.ts';
import type { DrawingLoops } from './drawings.ts';
import type { Outline, OutlineSource } from './part.ts';
import type { KeyPath } from './schema/jsonc.ts';
import type { RawOutline } from './schema/schema.ts';

/** undefined: a fault has been told. */
export function readOutline(raw: RawOutline, path: KeyPath, desk: Desk, drawings: DrawingLoops): Outline | undefined {
  if ('bosses' in raw) {
    const webs = raw.webs ?? raw.bosses.slice(1).map((_, i): [number, number] => [i, i + 1]);
    const fillet = raw.fillet ?? 0;
    const source: OutlineSource = { kind: 'bosses', bosses: raw.bosses, webs, fillet };
    return sound(bossesAndWebs({ bosses: raw.bosses, webs, fillet }), source, path, desk);
  }
  if ('vertices' in raw) {
    const loop = fromVertices(raw.vertices.map((v) => [v.x, v.y, v.bulge] as const));
    return sound(loop, { kind: 'vertices' }, [...path, 'vertices'], desk);
  }
  if ('circle' in raw) {
    const source: OutlineSource = { kind: 'circle', ...raw.circle };
    return sound(circle(raw.circle.at, raw.circle.diameter), source, [...path, 'circle'], desk);
  }
  if ('slot' in raw) {
    const { from, to, width } = raw.slot;
    return sound(slot(from, to, width), { kind: 'slot', ...raw.slot }, [...path, 'slot'], desk);
  }
  const wanted = 'dxf' in raw ? { file: raw.dxf, pick: raw.layer } : { file: raw.svg, pick: raw.id };
  const key = 'dxf' in raw ? 'dxf' : 'svg';
  const loops = drawings(key, wanted.file, wanted.pick);
  if (!loops.ok) {
    moveProblems(loops.problems, [...path, key], desk);
    return undefined;
  }
  moveProblems(loops.problems, [...path, key], desk);
  const outer: Outcome<Loop> = { ok: true, value: loops.value.outer, problems: [] };
  const outline = sound(outer, { kind: 'drawing', file: wanted.file }, [...path, key], desk);
  return outline === undefined ? undefined : { ...outline, inner: loops.value.inner };
}

function sound(made: Outcome<Loop>, source: OutlineSource, path: KeyPath, desk: Desk): Outline | undefined {
  moveProblems(made.problems, path, desk);
  if (!made.ok) return undefined;
  const worst = validateLoop(made.value)
    .map((d) => defectWords(d, desk))
    .find((w) => w !== undefined);
  if (worst !== undefined) {
    desk.fault({
      code: 'outline-unsound',
      at: path,
      found: worst,
      wanted: 'one simple closed edge',
      remedy: 'give the corners in order, each once',
    });
    return undefined;
  }
  return { loop: made.value, source, inner: [] };
}

/**
 * Problems of shapes carry a path counted from the shape; those of drawings a place in the drawing, which is kept, or none.
 * Severity is kept: what a drawing merely remarks must not stop a job.
 */
function moveProblems(problems: readonly Problem[], path: KeyPath, desk: Desk): void {
  for (const p of problems) {
    if (p.place.file !== undefined) {
      desk.problems.push(p);
      continue;
    }
    const here = desk.place([...path, ...stepsOf(p.place.path ?? '')]);
    desk.problems.push({ ...p, place: p.place.at === undefined ? here : { ...here, at: p.place.at } });
  }
}

/** `bosses[1].radius` to its steps. */
function stepsOf(path: string): (string | number)[] {
  return [...path.matchAll(/\[(\d+)\]|([^.[\]]+)/g)].map((m) => (m[1] === undefined ? m[2]! : Number(m[1])));
}

/** Short pieces are not told: they are cut like any other. */
function defectWords(d: Defect, desk: Desk): string | undefined {
  switch (d.kind) {
    case 'short piece':
      return undefined;
    case 'crossing':
    case 'touching':
      return `the edge ${d.kind === 'crossing' ? 'crosses' : 'touches'} itself at ${desk.sayPoint(d.at)} (pieces ${d.first} and ${d.second})`;
    case 'overlap':
      return `the edge runs along itself from ${desk.sayPoint(d.from)} to ${desk.sayPoint(d.to)}`;
    case 'spike':
      return `the edge turns straight back on itself at ${desk.sayPoint(d.at)}`;
    case 'bad arc':
      return `the arc at ${desk.sayPoint(d.at)} does not meet its ends`;
    case 'open':
      return `the edge is open by ${desk.say(d.size)} at ${desk.sayPoint(d.from)}`;
    case 'no area':
    case 'clockwise':
    case 'empty':
    case 'not finite':
      return 'the edge encloses no area';
  }
}
