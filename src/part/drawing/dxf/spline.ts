import type { Point } from '../../../geometry/types.ts';
import type { Spline } from '../curve/spline.ts';
import type { Fields } from './fields.ts';

const WANTED = 'a SPLINE with control points, knots and positive weights';

/** The spline of a SPLINE entity (world coordinates); null when it is broken, which is told. */
export function readSpline(f: Fields): Spline | null {
  const degree = f.integer(71, 3);
  const points = pairs(f, 10, 20);
  const knots = f.list(40);
  const weights = f.list(41);
  if (f.broken) return null;
  if (points.length === 0 && f.find(11) !== -1) {
    // How a curve runs between fit points is each program's own affair: a guess could be off by more than any tolerance here.
    f.fail(
      'fit-points-only',
      'SPLINE has fit points but no control points',
      'a SPLINE with control points, or a polyline',
    );
    return null;
  }
  const wrong = faultOf(degree, points, knots, weights);
  if (wrong !== null) {
    f.fail('bad-spline', wrong, WANTED);
    return null;
  }
  return { degree, points, knots, weights: weights.length === 0 ? points.map(() => 1) : weights };
}

function faultOf(
  degree: number,
  points: readonly Point[],
  knots: readonly number[],
  weights: readonly number[],
): string | null {
  if (degree < 1 || degree > 15) return `SPLINE of degree ${degree}`;
  if (points.length <= degree) return `SPLINE of degree ${degree} with ${points.length} control points`;
  if (knots.length !== points.length + degree + 1) {
    return `SPLINE of degree ${degree} with ${points.length} control points and ${knots.length} knots instead of ${points.length + degree + 1}`;
  }
  if (knots.some((k, i) => i > 0 && k < knots[i - 1]!)) return 'SPLINE whose knots do not ascend';
  if (!(knots[points.length]! > knots[degree]!)) return 'SPLINE whose knots are all the same';
  if (breaks(degree, points.length, knots))
    return `SPLINE that breaks apart: an inner knot stands more than ${degree} times`;
  if (weights.length !== 0 && weights.length !== points.length) {
    return `SPLINE with ${points.length} control points and ${weights.length} weights`;
  }
  if (weights.some((w) => !(w > 0))) return 'SPLINE with a weight that is not above zero';
  return null;
}

/** A knot inside the range that stands degree + 1 times lets the curve jump. */
function breaks(degree: number, points: number, knots: readonly number[]): boolean {
  for (let i = degree + 1; i + degree < points; i++) {
    if (knots[i] === knots[i + degree] && knots[i]! > knots[degree]! && knots[i]! < knots[points]!) return true;
  }
  return false;
}

function pairs(f: Fields, xCode: number, yCode: number): Point[] {
  const [xs, ys] = [f.list(xCode), f.list(yCode)];
  if (xs.length !== ys.length) {
    f.fail('missing-value', `SPLINE with ${xs.length} x and ${ys.length} y values`, 'x and y for every control point');
    return [];
  }
  return xs.map((x, i) => ({ x, y: ys[i]! }));
}
