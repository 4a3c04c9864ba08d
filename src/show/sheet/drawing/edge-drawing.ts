/** A part on edge, seen from the front: the hole and its axis, the jaws' top, the bosses' centres from the zero. */
import type { Mm } from '../../../base/units.ts';
import { loopBox } from '../../../geometry/measure/loop.ts';
import type { Point } from '../../../geometry/types.ts';
import type { EdgeStand } from '../../../plan/plan.ts';
import type { Units } from '../figures.ts';
import { COLOURS } from '../style.ts';
import { type DimensionFigure, figureRoom, running } from './dimension.ts';
import { centreLines, circle, edgePath, letters, onPaper, stroke, svg, type View } from './pen.ts';
import { type DrawingScale, scaleFor } from './scale.ts';

const SIDE: Mm = figureRoom(7) + 3;
const RIGHT: Mm = 14;
const TOP: Mm = 6;
/** The jaws are drawn standing out this far beyond the part. */
const OVER: Mm = 4;
const ROOM: readonly [Mm, Mm] = [150, 85];
/** Extension lines stop this short of what they point at. */
const SHORT: Mm = 1;

/** `setup`: its index in the plan. */
export function edgeDrawing(
  u: Units,
  edge: EdgeStand,
  setup: number,
): { readonly svg: string; readonly scale: DrawingScale } {
  const { loop } = edge;
  const box = loopBox(loop);
  const [w, h] = [box.maxX - box.minX, box.maxY - box.minY];
  const scale = scaleFor([w, h], [ROOM[0] - SIDE - RIGHT, ROOM[1] - SIDE - TOP]);
  const f = scale.factor;
  const view: View = { scale: f, ox: SIDE - box.minX * f, oy: TOP + box.maxY * f };
  const [left, right] = [SIDE, SIDE + w * f];
  const bottom = view.oy - box.minY * f;
  const jaws = onPaper(view, { x: 0, y: -edge.radius }).y;
  const marks = marksOf(u, edge, view, `setups.${setup}.hold`, { x: left - 3, y: bottom + 3 });
  const up = running({ axis: 'y', at: left - 3, origin: view.oy, room: [0, bottom + 2] }, marks.up);
  const along = running({ axis: 'x', at: bottom + 3, origin: view.ox, room: [left - 6, right + 6] }, marks.along);
  const body = [
    edgePath(view, loop, '#ffffff'),
    ...holeDrawn(edge, view),
    ...edge.centres.map((c) => centreLines(onPaper(view, { x: c.x, y: c.z }), 1)),
    stroke({ x: left - OVER, y: jaws }, { x: right + OVER, y: jaws }, 'adjacent'),
    letters({ x: right + OVER - 1, y: jaws + 3.6 }, 'jaws', { anchor: 'end' }),
    up.svg,
    along.svg,
    circle(onPaper(view, { x: 0, y: 0 }), 0.9, 'narrow', COLOURS.zero, '#ffffff'),
    letters({ x: view.ox + 1.5, y: view.oy - 1.5 }, 'X0 Z0', { colour: COLOURS.zero }),
  ];
  const title = `Part on edge for edge hole ${edge.hole.index + 1}, seen from the front, ${scale.text}`;
  return { svg: svg(SIDE + w * f + RIGHT, bottom + 3 + figureRoom(6), title, body), scale };
}

/** The hole lies behind the face: hidden lines, with its axis. */
function holeDrawn({ hole }: EdgeStand, view: View): string[] {
  const r = hole.diameter / 2;
  const at = (x: Mm, y: Mm) => onPaper(view, { x, y });
  const end = at(0, -hole.depth);
  return [
    stroke(at(-r, 0), at(-r, -hole.depth), 'hidden'),
    stroke(at(r, 0), at(r, -hole.depth), 'hidden'),
    stroke(at(-r, -hole.depth), at(r, -hole.depth), 'hidden'),
    stroke({ x: end.x, y: end.y + 2 }, { x: end.x, y: at(0, 0).y - 2 }, 'centre'),
  ];
}

function marksOf(
  u: Units,
  { hole, radius, centres }: EdgeStand,
  view: View,
  hold: string,
  line: Point,
): { up: DimensionFigure[]; along: DimensionFigure[] } {
  const z = (v: Mm, x: Mm, rank: number, key?: string): DimensionFigure => {
    const p = onPaper(view, { x, y: v });
    return { text: u.size(v), along: p.y, from: p.x - line.x - SHORT, rank, plan: key && `${hold}.${key}` };
  };
  const x = (v: Mm, at: Mm, rank: number, key?: string): DimensionFigure => {
    const p = onPaper(view, { x: v, y: at });
    return { text: u.size(v), along: p.x, from: line.y - p.y - SHORT, rank, plan: key && `${hold}.${key}` };
  };
  const others = [...centres.entries()].filter(([i]) => i !== hole.boss);
  const bottom = z(-hole.depth, -hole.diameter / 2, 0, 'holeBottom');
  const up = others.map(([i, c]) => z(c.z, c.x, 2, `centres.${i}.1`));
  const along = others.map(([i, c]) => x(c.x, c.z, 1, `centres.${i}.0`));
  return { up: [z(0, 0, 0), bottom, z(-radius, 0, 1, 'jawsTop'), ...up], along: [x(0, -hole.depth, 0), ...along] };
}
