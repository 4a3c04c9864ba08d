/**
 * The outline of a turning cutter: its radius `at(u)` at height u above the tip, never falling with u. Flat, with a corner
 * radius, ball or cone. Points of centre drills are taken as plain cones, leads of reamers and taps as full cylinders: both
 * let the check see a little more cutter than there is.
 */
import { tangent } from '../base/angles.ts';
import { type Mm, toRad } from '../base/units.ts';
import type { Cutter } from '../part/part.ts';

export interface CutterShape {
  readonly radius: Mm;
  at(u: Mm): Mm;
  /** Height above the tip of the cutting surface at distance d from the axis, d <= radius. */
  lift(d: Mm): Mm;
  /** Height above the tip from which the full radius cuts. */
  readonly fullAt: Mm;
  /** Heights where the outline changes its law or has slope 1: where an excess over a wall can be greatest. */
  readonly breaks: readonly Mm[];
  readonly flat: boolean;
  /** Has a point or a lead that goes deeper than its full diameter cuts. */
  readonly pointed: boolean;
}

export function shapeOf(cutter: Cutter): CutterShape {
  const radius = cutter.diameter / 2;
  switch (cutter.kind) {
    case 'drill':
    case 'spot drill':
    case 'centre drill':
    case 'countersink':
    case 'chamfer cutter':
      return cone(radius, cutter.pointDeg, cutter.tip);
    case 'ball-nosed end mill':
      return cornered(radius, radius);
    case 'end mill':
    case 'slot drill':
    case 'counterbore':
      return cutter.cornerRadius > 0 ? cornered(radius, Math.min(radius, cutter.cornerRadius)) : cylinder(radius);
    case 'reamer':
    case 'tap':
      return { ...cylinder(radius), fullAt: cutter.lead, pointed: true };
  }
}

function cylinder(radius: Mm): CutterShape {
  return { radius, at: () => radius, lift: () => 0, fullAt: 0, breaks: [], flat: true, pointed: false };
}

/** `tip`: diameter of the flat at the end; 0: a sharp point. */
function cone(radius: Mm, pointDeg: number, tip: Mm): CutterShape {
  if (!(pointDeg > 0 && pointDeg < 180)) return cylinder(radius);
  const slope = tangent(toRad(pointDeg) / 2);
  const flat = Math.min(radius, tip / 2);
  const fullAt = (radius - flat) / slope;
  const at = (u: Mm) => (u >= fullAt ? radius : flat + Math.max(0, u) * slope);
  const lift = (d: Mm) => Math.max(0, d - flat) / slope;
  return { radius, at, lift, fullAt, breaks: [fullAt], flat: false, pointed: true };
}

function cornered(radius: Mm, corner: Mm): CutterShape {
  const base = radius - corner;
  const at = (u: Mm) => {
    if (u >= corner) return radius;
    const v = corner - Math.max(0, u);
    return base + Math.sqrt(corner * corner - v * v);
  };
  const lift = (d: Mm) => {
    const v = Math.max(0, d - base);
    return corner - Math.sqrt(Math.max(0, corner * corner - v * v));
  };
  return {
    radius,
    at,
    lift,
    fullAt: corner,
    breaks: [corner, corner * (1 - Math.SQRT1_2)],
    flat: false,
    pointed: false,
  };
}
