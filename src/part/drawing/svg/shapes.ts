/** The basic shapes of SVG 1.1 chapter 9, as curves in user units. */
import type { Point } from '../../../geometry/types.ts';
import { type DrawnCurve, type DrawnShape, ellipticArc, straight } from '../curve/curve.ts';
import type { SvgAttributes } from './attributes.ts';
import { parsePath } from './path.ts';
import { parseNumbers } from './values.ts';

export type ShapeReader = (a: SvgAttributes) => DrawnShape[];

export const SHAPE_READERS: Readonly<Record<string, ShapeReader>> = {
  path: (a) => {
    const d = parsePath(a.text('d') ?? '');
    if (d.ok) return d.value;
    a.fail('bad-path', d.found, 'path data of the published grammar');
    return [];
  },
  line: (a) =>
    open([
      straight({ x: a.length('x1', 'x'), y: a.length('y1', 'y') }, { x: a.length('x2', 'x'), y: a.length('y2', 'y') }),
    ]),
  rect: readRect,
  circle: (a) => round(a, a.length('r', 'both'), a.length('r', 'both')),
  ellipse: (a) => round(a, a.length('rx', 'x'), a.length('ry', 'y')),
  polyline: (a) => open(chain(points(a))),
  polygon: (a) => {
    const p = points(a);
    return p.length < 2 ? [] : [{ curves: chain([...p, p[0]!]), closed: true }];
  },
};

function open(curves: readonly DrawnCurve[]): DrawnShape[] {
  return curves.length === 0 ? [] : [{ curves, closed: false }];
}

function chain(p: readonly Point[]): DrawnCurve[] {
  return p.slice(1).flatMap((q, i) => (q.x === p[i]!.x && q.y === p[i]!.y ? [] : [straight(p[i]!, q)]));
}

function points(a: SvgAttributes): Point[] {
  const numbers = parseNumbers(a.text('points') ?? '');
  if (!numbers.ok || numbers.value.length % 2 !== 0) {
    a.fail('bad-points', numbers.ok ? `${numbers.value.length} numbers in points` : numbers.found, 'pairs of numbers');
    return [];
  }
  const v = numbers.value;
  return Array.from({ length: v.length / 2 }, (_, i) => ({ x: v[2 * i]!, y: v[2 * i + 1]! }));
}

function round(a: SvgAttributes, rx: number, ry: number): DrawnShape[] {
  if (rx < 0 || ry < 0) a.fail('bad-radius', `radius ${Math.min(rx, ry)}`, 'a radius of zero or more');
  // By the standard a radius of zero draws nothing.
  if (!(rx > 0 && ry > 0)) return [];
  const centre = { x: a.length('cx', 'x'), y: a.length('cy', 'y') };
  return [{ curves: [ellipticArc(centre, { x: rx, y: 0 }, { x: 0, y: ry }, 0, 2 * Math.PI)], closed: true }];
}

function readRect(a: SvgAttributes): DrawnShape[] {
  const [x, y] = [a.length('x', 'x'), a.length('y', 'y')];
  const [w, h] = [a.length('width', 'x'), a.length('height', 'y')];
  if (w < 0 || h < 0) a.fail('bad-size', `rect of ${w} by ${h}`, 'width and height of zero or more');
  if (!(w > 0 && h > 0)) return [];
  const [rx, ry] = cornerRadii(a, w, h);
  return [{ curves: rectCurves(x, y, w, h, rx, ry), closed: true }];
}

/** SVG 1.1 section 9.2: one radius alone stands for both; each is at most half its side. */
function cornerRadii(a: SvgAttributes, w: number, h: number): [number, number] {
  const given = (name: string): boolean => a.text(name) !== undefined && a.text(name) !== 'auto';
  const rx = given('rx') ? a.length('rx', 'x') : given('ry') ? a.length('ry', 'y') : 0;
  const ry = given('ry') ? a.length('ry', 'y') : rx;
  if (rx < 0 || ry < 0) a.fail('bad-radius', `corner radius ${Math.min(rx, ry)}`, 'a radius of zero or more');
  return [Math.min(rx, w / 2), Math.min(ry, h / 2)];
}

function rectCurves(x: number, y: number, w: number, h: number, rx: number, ry: number): DrawnCurve[] {
  const rounded = rx > 0 && ry > 0;
  const [ix, iy] = rounded ? [rx, ry] : [0, 0];
  // Left ends of the top edge first, then on in SVG's direction; each corner is a quarter about its own centre.
  const p: Point[] = [
    { x: x + ix, y },
    { x: x + w - ix, y },
    { x: x + w, y: y + iy },
    { x: x + w, y: y + h - iy },
    { x: x + w - ix, y: y + h },
    { x: x + ix, y: y + h },
    { x, y: y + h - iy },
    { x, y: y + iy },
  ];
  const centres: Point[] = [
    { x: x + w - ix, y: y + iy },
    { x: x + w - ix, y: y + h - iy },
    { x: x + ix, y: y + h - iy },
    { x: x + ix, y: y + iy },
  ];
  return [0, 1, 2, 3].flatMap((k): DrawnCurve[] => {
    const [a, b, c] = [p[2 * k]!, p[2 * k + 1]!, p[(2 * k + 2) % 8]!];
    const edge = a.x === b.x && a.y === b.y ? [] : [straight(a, b)];
    if (!rounded) return edge;
    const quarter = {
      kind: 'elliptic',
      a: b,
      b: c,
      centre: centres[k]!,
      u: { x: rx, y: 0 },
      v: { x: 0, y: ry },
    } as const;
    return [...edge, { ...quarter, start: ((k - 1) * Math.PI) / 2, sweep: Math.PI / 2 }];
  });
}
