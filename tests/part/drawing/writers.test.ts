/**
 * Drawings of two independent writers. ezdxf 0.18.1 made the fixtures (fixtures/make.py) and said where points of every
 * curve lie, blocks exploded by its own mathematics; the second writer, @tarikjabiri/dxf, runs here.
 */
import { DxfWriter, LWPolylineFlags, point2d, point3d, Units } from '@tarikjabiri/dxf';
import { describe, expect, test } from 'vitest';
import { CURVE_FIT } from '../../../src/base/tolerance.ts';
import { loopLength } from '../../../src/geometry/measure/loop.ts';
import { dist } from '../../../src/geometry/measure/point.ts';
import { validateLoop } from '../../../src/geometry/validate.ts';
import { pickOutline } from '../../../src/part/drawing/pick.ts';
import { allSegments, farthestFrom, fixture, must, readDxfText } from './helpers.ts';

interface Curve {
  readonly type: string;
  readonly points: readonly (readonly [number, number])[];
}

/** Rounding of coordinates written with 16 digits, through two implementations. */
const ROUNDING = 1e-9;

describe.each(['r12', 'r2000', 'r2010', 'r2018'])('ezdxf %s', (version) => {
  test.each(['outline', 'entities', 'blocks'])('%s lies where the writer says', (name) => {
    const drawing = readDxfText(fixture(`${name}-${version}.dxf`));
    const curves = JSON.parse(fixture(`${name}-${version}.json`)) as Curve[];
    expect(curves.length).toBeGreaterThan(2);
    expect(drawing.units).toMatchObject({ mmPerUnit: 1 });
    const segments = allSegments(drawing);
    for (const c of curves) {
      const points = c.points.map(([x, y]) => ({ x, y }));
      const within = c.type === 'ELLIPSE' || c.type === 'SPLINE' ? CURVE_FIT : ROUNDING;
      expect(farthestFrom(segments, points), `${c.type} at ${c.points[0]}`).toBeLessThanOrEqual(within);
    }
    expect(loopLength(segments) / chordLength(curves)).toBeCloseTo(1, 1);
    for (const l of drawing.loops) expect(validateLoop(l.loop)).toEqual([]);
  });

  test('the outline layer gives one outer edge of two lines and two arcs; the word is counted', () => {
    const drawing = readDxfText(fixture(`outline-${version}.dxf`));
    const { outer } = must(pickOutline(drawing, { layer: 'EDGE' }));
    expect(outer.map((s) => s.kind)).toEqual(['line', 'arc', 'line', 'arc']);
    expect(outer.flatMap((s) => (s.kind === 'arc' ? [s.radius] : [])).map((r) => r.toFixed(9))).toEqual([
      '4.000000000',
      '6.000000000',
    ]);
    expect(drawing.ignored).toEqual({ TEXT: 1 });
    expect(drawing.circles.map((c) => c.circle!.diameter)).toEqual([5, 2.05]);
  });
});

function chordLength(curves: readonly Curve[]): number {
  const points = curves.map((c) => {
    const ps = c.points.map(([x, y]) => ({ x, y }));
    return c.type === 'CIRCLE' ? [...ps, ps[0]!] : ps;
  });
  return points.reduce((sum, ps) => sum + ps.slice(1).reduce((s, p, i) => s + dist(ps[i]!, p), 0), 0);
}

test('a rational spline that is a quarter circle comes back as one arc', () => {
  const drawing = readDxfText(fixture('entities-r2018.dxf'));
  const quarter = drawing.open.find((o) => o.sources[0]!.type === 'SPLINE' && dist(o.from, { x: 85, y: 60 }) < 1e-9)!;
  expect(quarter.chain).toHaveLength(1);
  expect(quarter.chain[0]).toMatchObject({ kind: 'arc' });
  expect((quarter.chain[0] as { radius: number }).radius).toBeCloseTo(5, 9);
});

test('the second writer: polyline with bulges, circles, a block inserted turned and scaled, inches', () => {
  const dxf = new DxfWriter();
  dxf.setUnits(Units.Inches);
  dxf.addLayer('EDGE', 7, 'Continuous');
  dxf.setCurrentLayerName('EDGE');
  const corners = [point2d(0, 0), point2d(2, 0), point2d(2, 1), point2d(0, 1)];
  dxf.addLWPolyline(
    corners.map((point, i) => ({ point, bulge: i === 1 ? 1 : 0 })),
    { flags: LWPolylineFlags.Closed },
  );
  dxf.addCircle(point3d(0.5, 0.5), 0.125);
  const block = dxf.addBlock('HOLE');
  block.addCircle(point3d(1, 0), 0.1);
  dxf.addInsert('HOLE', point3d(1, 0.5), { rotationAngle: 90, scaleFactor: { x: 0.25, y: 0.25, z: 0.25 } });
  const drawing = readDxfText(dxf.stringify());
  expect(drawing.units).toEqual({ name: 'inch', mmPerUnit: 25.4, from: 'drawing' });
  const { outerLoop, innerLoops } = must(pickOutline(drawing, { layer: 'edge' }));
  expect(outerLoop.box).toMatchObject({ minX: 0, minY: 0, maxY: 25.4 });
  expect(outerLoop.box.maxX).toBeCloseTo(63.5, 9);
  expect(outerLoop.loop.find((s) => s.kind === 'arc')).toMatchObject({ radius: 12.7, sweep: Math.PI });
  const circles = innerLoops.map((l) => l.circle!).sort((p, q) => p.centre.x - q.centre.x);
  expect(circles.map((c) => c.diameter)).toEqual([expect.closeTo(6.35, 9), expect.closeTo(1.27, 9)]);
  expect(circles[1]!.centre).toEqual({ x: expect.closeTo(25.4, 9), y: expect.closeTo(19.05, 9) });
});
