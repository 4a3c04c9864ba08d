/** Path data (SVG 1.1 chapter 8) to curves; arcs by the published notes, appendix F.6. */

import { SVGPathData } from 'svg-pathdata';
import { arctangent2, cosine, sine } from '../../../base/angles.ts';
import type { Point } from '../../../geometry/types.ts';
import { bezier, type DrawnCurve, type DrawnShape, type EllipticArc, straight } from '../curve/curve.ts';
import type { Parsed } from './values.ts';

/** One shape a subpath; subpaths of a single move are dropped. */
export function parsePath(text: string): Parsed<DrawnShape[]> {
  let commands: SVGPathData['commands'];
  try {
    commands = new SVGPathData(text).toAbs().commands;
  } catch (error) {
    return { ok: false, found: `path data: ${error instanceof Error ? error.message : String(error)}` };
  }
  const pen = new PathPen();
  for (const c of commands) {
    const values = Object.values(c).filter((v) => typeof v === 'number');
    if (!values.every(Number.isFinite)) return { ok: false, found: 'path data: a number too large to be read' };
    pen.draw(c);
  }
  pen.finish();
  return { ok: true, value: pen.shapes };
}

class PathPen {
  readonly shapes: DrawnShape[] = [];
  private curves: DrawnCurve[] = [];
  private start: Point = { x: 0, y: 0 };
  private at: Point = { x: 0, y: 0 };
  /** Last control point, for the smooth forms; only after a curve of the same kind. */
  private cubic: Point | null = null;
  private quadratic: Point | null = null;

  draw(c: SVGPathData['commands'][number]): void {
    const [cubic, quadratic] = [this.cubic, this.quadratic];
    this.cubic = null;
    this.quadratic = null;
    switch (c.type) {
      case SVGPathData.MOVE_TO:
        this.finish();
        this.start = this.at = { x: c.x, y: c.y };
        return;
      case SVGPathData.LINE_TO:
        return this.lineTo({ x: c.x, y: c.y });
      case SVGPathData.HORIZ_LINE_TO:
        return this.lineTo({ x: c.x, y: this.at.y });
      case SVGPathData.VERT_LINE_TO:
        return this.lineTo({ x: this.at.x, y: c.y });
      case SVGPathData.CLOSE_PATH:
        return this.close();
      case SVGPathData.CURVE_TO:
        return this.cubicTo({ x: c.x1, y: c.y1 }, { x: c.x2, y: c.y2 }, { x: c.x, y: c.y });
      case SVGPathData.SMOOTH_CURVE_TO:
        return this.cubicTo(this.mirrored(cubic), { x: c.x2, y: c.y2 }, { x: c.x, y: c.y });
      case SVGPathData.QUAD_TO:
        return this.quadraticTo({ x: c.x1, y: c.y1 }, { x: c.x, y: c.y });
      case SVGPathData.SMOOTH_QUAD_TO:
        return this.quadraticTo(this.mirrored(quadratic), { x: c.x, y: c.y });
      case SVGPathData.ARC:
        return this.add(svgArc(this.at, c.rX, c.rY, c.xRot, c.lArcFlag === 1, c.sweepFlag === 1, { x: c.x, y: c.y }));
    }
  }

  finish(): void {
    if (this.curves.length > 0) this.shapes.push({ curves: this.curves, closed: false });
    this.curves = [];
  }

  private close(): void {
    this.lineTo(this.start);
    const last = this.curves.at(-1);
    if (last !== undefined) this.shapes.push({ curves: this.curves, closed: true });
    this.curves = [];
    this.at = this.start;
  }

  private lineTo(p: Point): void {
    if (p.x !== this.at.x || p.y !== this.at.y) this.add(straight(this.at, p));
  }

  private cubicTo(p1: Point, p2: Point, p: Point): void {
    this.add(bezier([this.at, p1, p2, p]));
    this.cubic = p2;
  }

  private quadraticTo(p1: Point, p: Point): void {
    this.add(bezier([this.at, p1, p]));
    this.quadratic = p1;
  }

  private mirrored(control: Point | null): Point {
    return control === null ? this.at : { x: 2 * this.at.x - control.x, y: 2 * this.at.y - control.y };
  }

  private add(curve: DrawnCurve | null): void {
    if (curve === null) return;
    this.curves.push(curve);
    this.at = curve.b;
  }
}

/** Half-chords that differ from the radius by less than this part are a half circle; the root below would give 1e-8 instead. */
const HALF_CIRCLE = 1e-14;

/**
 * SVG 1.1 F.6.5: end points to centre. Radii too small are scaled up (F.6.6); a radius of zero is a line; equal ends are
 * nothing (F.6.2). Angles are those of SVG's axes, Y down; the map to millimetres turns them.
 */
export function svgArc(
  from: Point,
  rX: number,
  rY: number,
  turn: number,
  large: boolean,
  sweep: boolean,
  to: Point,
): DrawnCurve | null {
  if (from.x === to.x && from.y === to.y) return null;
  if (rX === 0 || rY === 0) return straight(from, to);
  const phi = (turn * Math.PI) / 180;
  const [c, s] = [cosine(phi), sine(phi)];
  const [hx, hy] = [(from.x - to.x) / 2, (from.y - to.y) / 2];
  const [x1, y1] = [c * hx + s * hy, -s * hx + c * hy];
  let [rx, ry] = [Math.abs(rX), Math.abs(rY)];
  const lambda = (x1 / rx) ** 2 + (y1 / ry) ** 2;
  const half = lambda >= 1 - HALF_CIRCLE;
  if (half) [rx, ry] = [rx * Math.sqrt(lambda), ry * Math.sqrt(lambda)];
  const k = half ? 0 : Math.sqrt((1 - lambda) / lambda) * (large === sweep ? -1 : 1);
  const [cx, cy] = [(k * rx * y1) / ry, (-k * ry * x1) / rx];
  const centre = { x: c * cx - s * cy + (from.x + to.x) / 2, y: s * cx + c * cy + (from.y + to.y) / 2 };
  const start = arctangent2((y1 - cy) / ry, (x1 - cx) / rx);
  const end = arctangent2((-y1 - cy) / ry, (-x1 - cx) / rx);
  const arc: EllipticArc = {
    kind: 'elliptic',
    a: from,
    b: to,
    centre,
    u: { x: rx * c, y: rx * s },
    v: { x: -ry * s, y: ry * c },
    start,
    sweep: half ? (sweep ? Math.PI : -Math.PI) : swept(end - start, sweep),
  };
  return arc;
}

function swept(angle: number, positive: boolean): number {
  const turn = 2 * Math.PI;
  if (positive) return angle < 0 ? angle + turn : angle;
  return angle > 0 ? angle - turn : angle;
}
