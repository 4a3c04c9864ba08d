/**
 * The set-up as a drawing: front view above, plan below (first-angle projection), dimensioned from the zero.
 * Stock and part edges wide; clamps and what lies beneath as adjacent parts (long-dashed double-dotted narrow).
 */
import { type Mm, toRad } from '../../../base/units.ts';
import { loopBox } from '../../../geometry/measure/loop.ts';
import { fromAngle, pt, rot90, scale, step } from '../../../geometry/measure/point.ts';
import type { Point } from '../../../geometry/types.ts';
import type { Stub } from '../../../hold/holding.ts';
import { type PlacedPart, placedParts } from '../../../part/placed.ts';
import { sized, type Units } from '../figures.ts';
import { mouthOf } from '../hole-words.ts';
import type { SheetInput } from '../input.ts';
import { COLOURS } from '../style.ts';
import type { TouchOff } from '../touch-place.ts';
import { figureRoom, running } from './dimension.ts';
import { planMarks } from './drawing-marks.ts';
import { clampBoxes, frontView } from './front-view.ts';
import { besideBox, besideRound, boxOfPoints, type InTheWay, outsideOf } from './name-place.ts';
import {
  centreLines,
  circle,
  edgePath,
  LETTERING,
  letters,
  loopPath,
  num,
  onPaper,
  polygon,
  rect,
  stroke,
  svg,
  type View,
  WIDE,
} from './pen.ts';
import { type DrawingScale, scaleFor } from './scale.ts';

export interface SetupDrawing {
  readonly svg: string;
  readonly scale: DrawingScale;
  readonly dropped: number;
  /** Tabs, holes and parts carry their names. */
  readonly named: boolean;
}

/** Room of the figures left of and below the plan. Front view and plan are in projection, so their figures share the left side. */
const SIDE: Mm = figureRoom(6) + 3;
const RIGHT: Mm = 3;
/** Over the front view, for half a figure. */
const TOP: Mm = 2.5;
/** Between front view and plan. */
const BETWEEN: Mm = 7;

export function setupDrawing(
  input: SheetInput,
  u: Units,
  touch: TouchOff | null,
  room: readonly [Mm, Mm],
  named = true,
): SetupDrawing {
  const { stock } = input.job;
  const span = spanOf(input);
  const front = frontView(input, u);
  const [w, h] = [span.max.x - span.min.x, span.max.y - span.min.y];
  const scale = scaleFor([w, h + front.height], [room[0] - SIDE - RIGHT, room[1] - SIDE - BETWEEN - TOP - 3]);
  const frontHeight = front.height * scale.factor;
  const top = TOP + frontHeight + BETWEEN;
  const view: View = { scale: scale.factor, ox: SIDE - span.min.x * scale.factor, oy: top + span.max.y * scale.factor };
  const bottom = onPaper(view, span.min).y;
  const marks = planMarks(input, u, touch, view, { x: SIDE - 3, y: bottom + 3 });
  const stockMin = onPaper(view, { x: stock.min[0], y: stock.min[1] });
  const stockMax = onPaper(view, { x: stock.max[0], y: stock.max[1] });
  const along = running(
    { axis: 'x', at: bottom + 3, origin: view.ox, room: [SIDE - 6, SIDE + w * scale.factor + 6] },
    marks.x,
  );
  const up = running(
    { axis: 'y', at: SIDE - 3, origin: view.oy, room: [top - 2, Math.max(bottom, stockMin.y) + 2] },
    marks.y,
  );
  const body = [
    ...front.draw({ scale: scale.factor, ox: view.ox, oy: TOP + front.topZ * scale.factor }, SIDE - 3),
    rect(stockMin, stockMax, 'edge', '#ffffff'),
    ...clampsDrawn(input, view),
    ...partsDrawn(input, view, named),
    along.svg,
    up.svg,
    ...(touch === null ? [] : [touchDrawn(input, view, touch)]),
    zeroDrawn(view),
  ];
  const width = SIDE + w * scale.factor + RIGHT;
  const height = bottom + 3 + SIDE;
  const title = `Set-up of ${input.job.name} seen from above and from the front, ${scale.text}, stock ${sized(u, stock.max[0] - stock.min[0])} by ${sized(u, stock.max[1] - stock.min[1])}`;
  return { svg: svg(width, height, title, body), scale, dropped: along.dropped + up.dropped, named };
}

/** Everything seen from above: stock, clamps that stand out beyond it, and the zero. */
function spanOf(input: SheetInput): { min: Point; max: Point } {
  const { stock } = input.job;
  const boxes = clampBoxes(input);
  const corners = [pt(0, 0), ...boxes.flatMap((b) => [b.min, b.max])];
  const { minX, minY, maxX, maxY } = boxOfPoints([
    ...corners,
    pt(stock.min[0], stock.min[1]),
    pt(stock.max[0], stock.max[1]),
  ]);
  return { min: pt(minX, minY), max: pt(maxX, maxY) };
}

function clampsDrawn(input: SheetInput, view: View): string[] {
  return clampBoxes(input).map((b) => {
    const [min, max] = [onPaper(view, b.min), onPaper(view, b.max)];
    const middle = { x: (min.x + max.x) / 2 + LETTERING * 0.36, y: (min.y + max.y) / 2 };
    const tall = max.x - min.x < min.y - max.y;
    const label = tall
      ? letters(middle, b.name, { anchor: 'middle', upright: true })
      : letters({ x: middle.x, y: middle.y + LETTERING * 0.36 }, b.name, { anchor: 'middle' });
    return rect(min, max, 'adjacent') + label;
  });
}

/** The slot is a grey band: the outline drawn as wide as the slot, with the part on top. */
function partsDrawn(input: SheetInput, view: View, named: boolean): string[] {
  const parts = placedParts(input.job);
  const slot = 2 * input.plan.slotWidth * view.scale;
  const band = { fill: 'none', stroke: '#e0e0e0', 'stroke-width': num(slot), 'stroke-linejoin': 'round' };
  return [
    ...parts.map((p) => loopPath(view, p.outline, band)),
    ...parts.map((p) => partDrawn(p, view)),
    ...marksOf(input, view).map((m) => markDrawn(m, named)),
    ...(named ? namesDrawn(input, view) : []),
  ];
}

function partDrawn(p: PlacedPart, view: View): string {
  const holes = p.holes.map(({ hole, at }) => {
    const c = onPaper(view, at);
    const r = (hole.diameter / 2) * view.scale;
    const mouth = mouthOf(hole);
    const sink = mouth === hole.diameter ? '' : circle(c, (mouth / 2) * view.scale, 'narrow');
    return circle(c, r, 'edge', COLOURS.black, '#ffffff') + sink + centreLines(c, r);
  });
  const pockets = p.pockets.map(
    ({ edge, islands }) => edgePath(view, edge, '#ffffff') + islands.map((i) => edgePath(view, i, '#ffffff')).join(''),
  );
  return [edgePath(view, p.outline, '#ffffff'), ...pockets, ...holes].join('\n');
}

interface TabMark {
  /** Across the slot, as wide as its waist. */
  readonly corners: readonly Point[];
  readonly text: string;
  /** Base line of its name, beyond the slot. */
  readonly name: Point;
}

/** Tabs and stubs. */
function marksOf(input: SheetInput, view: View): TabMark[] {
  const { tabs, stubs } = input.holding;
  const marks = [
    ...tabs.map((t, i) => markOf(input, view, t, `T${i + 1}`)),
    ...stubs.map((s) => markOf(input, view, s, 'stub')),
  ];
  const placed: TabMark[] = [];
  for (const m of marks) placed.push(beside(m, placed));
  return placed;
}

/** Tabs of two parts may face each other: the later name then moves along the slot until it stands clear of the others. */
function beside(m: TabMark, placed: readonly TabMark[]): TabMark {
  const [a, b] = [m.corners[1]!, m.corners[2]!];
  const width = Math.hypot(b.x - a.x, b.y - a.y);
  const along = { x: (b.x - a.x) / width, y: (b.y - a.y) / width };
  const places = [0, 1.3, -1.3, 2.6, -2.6].map((k) => step(m.name, along, k * LETTERING));
  const clear = (p: Point) =>
    placed.every(
      (q) =>
        Math.abs(q.name.y - p.y) > LETTERING ||
        Math.abs(q.name.x - p.x) > LETTERING * 0.3 * (q.text.length + m.text.length),
    );
  return { ...m, name: places.find(clear) ?? m.name };
}

function markOf(input: SheetInput, view: View, tab: Omit<Stub, 'part' | 'footprint'>, text: string): TabMark {
  const out = fromAngle(toRad(tab.directionDeg));
  const side = scale(rot90(out), tab.width / 2);
  const { slotWidth } = input.plan;
  const corner = (along: number, across: number): Point => onPaper(view, step(step(tab.at, out, along), side, across));
  const end = corner(slotWidth + 2.6 / view.scale, 0);
  return {
    corners: [corner(0, 1), corner(slotWidth, 1), corner(slotWidth, -1), corner(0, -1)],
    text,
    name: { x: end.x, y: end.y + LETTERING * 0.36 },
  };
}

function markDrawn(m: TabMark, named: boolean): string {
  const shape = polygon(m.corners, { fill: '#ffffff', stroke: COLOURS.tab, 'stroke-width': WIDE });
  if (!named) return shape;
  return shape + letters(m.name, m.text, { anchor: 'middle', colour: COLOURS.tab });
}

/** Half the side of the square inside a circle: names may stand at its corners. */
const INSIDE = Math.SQRT1_2;

/** What names must keep off: tabs with their names, holes, and the part's own edge. */
function inTheWay(input: SheetInput, view: View): InTheWay[] {
  const round = (at: Point, r: number) => ({ minX: at.x - r, maxX: at.x + r, minY: at.y - r, maxY: at.y + r });
  return [
    ...marksOf(input, view).flatMap((m) => [
      { weight: 1, box: boxOfPoints(m.corners) },
      { weight: 1, box: round({ x: m.name.x, y: m.name.y - LETTERING * 0.36 }, 2) },
    ]),
    ...placedParts(input.job).flatMap((p) =>
      p.holes.map(({ hole, at }) => ({
        weight: 1,
        box: round(onPaper(view, at), (hole.diameter / 2) * view.scale * INSIDE),
      })),
    ),
  ];
}

/** Numbers of the holes, then names of the parts where there are several. */
function namesDrawn(input: SheetInput, view: View): string[] {
  const taken: InTheWay[] = inTheWay(input, view);
  const parts = placedParts(input.job);
  const holes = parts.flatMap((p) =>
    p.holes.map(({ hole, at }) => {
      const text = `${hole.index + 1}`;
      const { at: base, box } = besideRound(onPaper(view, at), (mouthOf(hole) / 2) * view.scale, text, taken);
      taken.push({ weight: 1, box });
      return letters(base, text, { anchor: 'middle' });
    }),
  );
  if (parts.length === 1) return holes;
  for (const b of clampBoxes(input))
    taken.push({ weight: 1, box: boxOfPoints([onPaper(view, b.min), onPaper(view, b.max)]) });
  const slot = input.plan.slotWidth;
  const around = parts.map((p) => {
    const { minX, minY, maxX, maxY } = loopBox(p.outline);
    const low = onPaper(view, { x: minX - slot, y: minY - slot });
    return boxOfPoints([low, onPaper(view, { x: maxX + slot, y: maxY + slot })]);
  });
  taken.push(...around.map((box) => ({ weight: 0.5, box })));
  const names = parts.map((p, i) => {
    const text = `part ${p.index + 1}`;
    const { at, box } = besideBox(around[i]!, text, taken);
    taken.push({ weight: 1, box });
    return letters(at, text, { anchor: 'middle' });
  });
  return [...holes, ...names];
}

function touchDrawn(input: SheetInput, view: View, touch: TouchOff): string {
  const c = onPaper(view, touch.at);
  const cross = [
    stroke({ x: c.x - 2, y: c.y - 2 }, { x: c.x + 2, y: c.y + 2 }, 'edge', COLOURS.zero),
    stroke({ x: c.x - 2, y: c.y + 2 }, { x: c.x + 2, y: c.y - 2 }, 'edge', COLOURS.zero),
  ];
  const { job } = input;
  const { stock } = job;
  const onSheet = (min: Point, max: Point) => boxOfPoints([onPaper(view, min), onPaper(view, max)]);
  const slot = input.plan.slotWidth;
  const ways: InTheWay[] = [
    ...inTheWay(input, view),
    ...clampBoxes(input).map((b) => ({ weight: 1, box: onSheet(b.min, b.max) })),
    ...outsideOf(onSheet({ x: stock.min[0], y: stock.min[1] }, { x: stock.max[0], y: stock.max[1] })),
    ...placedParts(job).map((p) => {
      const { minX, minY, maxX, maxY } = loopBox(p.outline);
      return { weight: 0.3, box: onSheet({ x: minX - slot, y: minY - slot }, { x: maxX + slot, y: maxY + slot }) };
    }),
    { weight: 1, box: { minX: view.ox, maxX: view.ox + 12, minY: view.oy - 5, maxY: view.oy } },
  ];
  const { at } = besideRound(c, 2.2, 'touch Z', ways);
  return [...cross, letters(at, 'touch Z', { anchor: 'middle', colour: COLOURS.zero })].join('');
}

function zeroDrawn(view: View): string {
  const c = { x: view.ox, y: view.oy };
  return (
    circle(c, 1.2, 'edge', COLOURS.zero, '#ffffff') +
    letters({ x: c.x + 1.8, y: c.y - 1.4 }, 'X0 Y0', { colour: COLOURS.zero })
  );
}
