/** The one outline a job asks for out of a drawing. */
import { bad, caution, fault, good, note, type Outcome, type Problem } from '../../base/problem.ts';
import { nearest, short } from '../../base/text.ts';
import { DRAWING_JOIN } from '../../base/tolerance.ts';
import { loopBox, positionOf, reverseLoop } from '../../geometry/measure/loop.ts';
import type { Box, Loop } from '../../geometry/types.ts';
import type { Drawing, DrawingLoop, OpenChain } from './drawing.ts';
import { ancestorsOf } from './heal/loops.ts';
import { quoted } from './number.ts';

export interface Pick {
  readonly layer?: string;
  readonly id?: string;
}

export interface PickedOutline {
  /** Counter-clockwise. */
  readonly outer: Loop;
  /** Directly inside it; clockwise, as openings run. Listed, not cut. */
  readonly inner: readonly Loop[];
  readonly outerLoop: DrawingLoop;
  readonly innerLoops: readonly DrawingLoop[];
}

/**
 * The outer edge on a layer or under an id (without either: of the whole drawing) with the outlines directly inside it.
 * Faults: `unknown-layer`, `unknown-id`, `no-outline`, `open-outline`, `several-outlines`, `crossing-outline`.
 */
export function pickOutline(drawing: Drawing, pick: Pick = {}): Outcome<PickedOutline> {
  const mine = <T extends DrawingLoop | OpenChain>(all: readonly T[]): T[] => all.filter((l) => chosen(l, pick));
  const [loops, open] = [mine(drawing.loops), mine(drawing.open)];
  const missing = nameFault(drawing, loops.length + open.length, pick);
  if (missing !== null) return bad(missing);
  const around = ancestorsOf(loops);
  const outer = loops.filter((_, i) => around[i]!.length === 0);
  const first = outer[0];
  if (first === undefined) return bad(...noOutline(open));
  if (outer.length > 1) return bad(several(outer));
  const wider = open.find((o) => encloses(loopBox(o.chain), first.box));
  if (wider !== undefined) return bad(openFault(wider));
  const crossed = crossingsOn(drawing, first);
  if (crossed.length > 0) return bad(...crossed);
  const innerLoops = loops.filter((_, i) => around[i]!.length === 1);
  const picked = { outer: first.loop, inner: innerLoops.map((l) => reverseLoop(l.loop)), outerLoop: first, innerLoops };
  return good(picked, remarks(drawing, first, open));
}

function chosen(l: DrawingLoop | OpenChain, pick: Pick): boolean {
  if (pick.layer !== undefined && l.layer.toUpperCase() !== pick.layer.toUpperCase()) return false;
  return pick.id === undefined || l.ids.includes(pick.id);
}

function encloses(outer: Box, inner: Box): boolean {
  return outer.minX <= inner.minX && outer.minY <= inner.minY && outer.maxX >= inner.maxX && outer.maxY >= inner.maxY;
}

function nameFault(drawing: Drawing, found: number, pick: Pick): Problem | null {
  if (found > 0) return null;
  const all = [...drawing.loops, ...drawing.open];
  if (pick.layer !== undefined) return unknownName('layer', pick.layer, [...new Set(all.map((l) => l.layer))].sort());
  if (pick.id !== undefined) return unknownName('id', pick.id, [...new Set(all.flatMap((l) => l.ids))].sort());
  return null;
}

function unknownName(kind: 'layer' | 'id', name: string, known: readonly string[]): Problem {
  const near = nearest(name, known);
  const list = known.slice(0, 12).map(quoted).join(', ') || 'none';
  return fault({
    code: `unknown-${kind}`,
    found: `no outline with ${kind} ${quoted(name)}`,
    wanted: `one of: ${list}`,
    remedy: near === undefined ? `name one of these` : `did you mean ${quoted(near)}?`,
  });
}

function noOutline(open: readonly OpenChain[]): Problem[] {
  if (open.length > 0) return open.slice(0, 10).map(openFault);
  return [
    fault({
      code: 'no-outline',
      found: 'the drawing holds no closed outline',
      wanted: 'one closed outer edge',
      remedy: 'draw the edge of the part closed, of lines, arcs and curves',
    }),
  ];
}

function openFault(o: OpenChain): Problem {
  const { gap } = o;
  const spot = gap?.a ?? o.from;
  const ends =
    gap === null
      ? `ends at ${at(o.from)} and ${at(o.to)}`
      : `the gap from ${at(gap.a)} to ${at(gap.b)} is ${short(gap.size, 4)} mm wide`;
  return fault({
    code: 'open-outline',
    at: { line: o.sources[0]!.line, at: [spot.x, spot.y] },
    found: `the outline is open: ${ends}`,
    wanted: `ends no more than ${DRAWING_JOIN} mm apart`,
    remedy: 'close the gap in the drawing',
  });
}

function several(outer: readonly DrawingLoop[]): Problem {
  const list = outer
    .slice(0, 6)
    .map(
      (l) =>
        `${short(l.box.maxX - l.box.minX)} x ${short(l.box.maxY - l.box.minY)} mm at ${at({ x: l.box.minX, y: l.box.minY })}${label(l)}`,
    );
  const spot = outer[1]!.box;
  return fault({
    code: 'several-outlines',
    at: { line: outer[1]!.sources[0]!.line, at: [spot.minX, spot.minY] },
    found: `${outer.length} outer edges lie beside each other: ${list.join('; ')}`,
    wanted: 'one outer edge',
    remedy: 'name the layer or the id of the one that is meant',
  });
}

function label(l: DrawingLoop): string {
  const name = l.layer === '' ? l.ids[0] : l.layer;
  return name === undefined ? '' : ` (${quoted(name)})`;
}

function at(p: { readonly x: number; readonly y: number }): string {
  return `${short(p.x, 4)}, ${short(p.y, 4)}`;
}

/** Crossings found on the drawing that lie on this outline. */
function crossingsOn(drawing: Drawing, l: DrawingLoop): Problem[] {
  return drawing.defects.flatMap((d) => {
    if ((d.code !== 'self-crossing' && d.code !== 'crossing') || d.place.at === undefined) return [];
    const p = { x: d.place.at[0], y: d.place.at[1] };
    if ((positionOf(l.loop, p)?.distance ?? Infinity) > DRAWING_JOIN) return [];
    return [fault({ code: 'crossing-outline', at: d.place, found: d.found, wanted: d.wanted, remedy: d.remedy })];
  });
}

function remarks(drawing: Drawing, l: DrawingLoop, open: readonly OpenChain[]): Problem[] {
  const problems: Problem[] = [];
  if (l.fitError > 0)
    problems.push(
      note({
        code: 'fitted',
        found: `curves of the outline are followed by arcs within ${l.fitError.toPrecision(2)} mm`,
      }),
    );
  if (drawing.units.from === 'caller')
    problems.push(note({ code: 'no-units', found: `the drawing states no units: read as ${drawing.units.name}` }));
  for (const o of open.slice(0, 10)) {
    problems.push(
      caution({
        code: 'open',
        at: { line: o.sources[0]!.line, at: [o.from.x, o.from.y] },
        found: `an open line from ${at(o.from)} to ${at(o.to)} is left out`,
        wanted: 'closed outlines only',
        remedy: 'put it on another layer if it is not part of the outline',
      }),
    );
  }
  return problems;
}
