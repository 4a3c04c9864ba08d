import { EndType, inflatePaths, JoinType } from 'clipper2-ts';
import Coordinate from 'jsts/org/locationtech/jts/geom/Coordinate.js';
import GeometryFactory from 'jsts/org/locationtech/jts/geom/GeometryFactory.js';
import BufferOp from 'jsts/org/locationtech/jts/operation/buffer/BufferOp.js';
import BufferParameters from 'jsts/org/locationtech/jts/operation/buffer/BufferParameters.js';
import { flattenLoop } from '../../src/geometry/flatten.ts';
import type { Point, Region } from '../../src/geometry/types.ts';

/** Area and length of an offset as another library reckons it, from a flattened copy of the region. */
export interface Reckoned {
  readonly area: number;
  readonly length: number;
}

const UNITS = 1e5;

/** clipper2-ts 2.0.1-18, a port of the Clipper2 library; whole numbers, so scaled. */
export function byClipper2(region: Region, d: number, chord: number): Reckoned {
  const paths = [region.outer, ...region.holes].map((loop) =>
    flattenLoop(loop, chord).map((p) => ({ x: Math.round(p.x * UNITS), y: Math.round(p.y * UNITS) })),
  );
  const out = inflatePaths(paths, d * UNITS, JoinType.Round, EndType.Polygon, 2, (chord * UNITS) / 2.25);
  const loops = out.map((path) => path.map((p) => ({ x: p.x / UNITS, y: p.y / UNITS })));
  return { area: loops.reduce((s, l) => s + shoelace(l), 0), length: loops.reduce((s, l) => s + perimeter(l), 0) };
}

/** jsts 2.12.1 BufferOp, a port of the JTS Topology Suite; works in floating point. */
export function byJsts(region: Region, d: number, chord: number): Reckoned {
  const factory = new GeometryFactory();
  const ring = (points: readonly Point[]) =>
    factory.createLinearRing([...points, points[0]!].map((p) => new Coordinate(p.x, p.y)));
  const [shell, ...holes] = [region.outer, ...region.holes].map((loop) => ring(flattenLoop(loop, chord)));
  const quarters = Math.ceil(Math.PI / 4 / Math.acos(1 - Math.min(0.2, chord / Math.abs(d))));
  const result = BufferOp.bufferOp(factory.createPolygon(shell, holes), d, new BufferParameters(quarters));
  return { area: result.getArea(), length: result.getLength() };
}

function shoelace(l: readonly Point[]): number {
  return l.reduce((s, a, i) => s + (a.x * l[(i + 1) % l.length]!.y - a.y * l[(i + 1) % l.length]!.x) / 2, 0);
}

function perimeter(l: readonly Point[]): number {
  return l.reduce((s, a, i) => s + Math.hypot(l[(i + 1) % l.length]!.x - a.x, l[(i + 1) % l.length]!.y - a.y), 0);
}
