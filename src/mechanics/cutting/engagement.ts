/**
 * How far round the cutter is engaged, and what the programmed feed must be so that the chip keeps its wanted thickness.
 * Angles are radians of cutter rotation; a slot is pi.
 */
import type { Mm, Rad } from '../../base/units.ts';
import { ARC_FEED, CHIP_THINNING_CAP } from '../../trade/milling-rules.ts';

/** Straight side cut: phi = acos(1 - 2 ae/D), pi at ae >= D. Kyocera catalogue 2021/22 p.1070. */
export function engagementStraight(diameter: Mm, ae: Mm): Rad {
  return acosClamped(1 - (2 * ae) / diameter);
}

/**
 * Cutter centre on a circle of radius `path` inside a bore; radial stock `ae` outside the already cleared radius.
 * Law of cosines about the centre of the bore; tends to the straight cut as `path` grows. The wall is the outer one, so
 * engagement is larger than on a straight edge of the same stock.
 */
export function engagementInside(path: Mm, cutterRadius: Mm, ae: Mm): Rad {
  const cleared = path + cutterRadius - ae;
  if (path <= 0 || cleared <= Math.abs(path - cutterRadius)) return ae > 0 ? Math.PI : 0;
  return acosClamped((cleared ** 2 - path ** 2 - cutterRadius ** 2) / (2 * path * cutterRadius));
}

/** Cutter centre on a circle of radius `path` round a boss; stock `ae` on the boss. Less engagement than a straight edge. */
export function engagementOutside(path: Mm, cutterRadius: Mm, ae: Mm): Rad {
  const outer = path - cutterRadius + ae;
  if (outer >= path + cutterRadius) return Math.PI;
  return acosClamped((path ** 2 + cutterRadius ** 2 - outer ** 2) / (2 * path * cutterRadius));
}

/** Width of a straight cut that engages the cutter by the same angle: lets one force model serve every kind of path. */
export function equivalentWidth(diameter: Mm, phi: Rad): Mm {
  return (diameter * (1 - Math.cos(Math.min(phi, Math.PI)))) / 2;
}

/**
 * Factor on the tooth feed that brings the thickest chip back to the wanted one in a narrow side cut:
 * 1/(2 sqrt(x - x^2)), x = ae/D below 0.5, else 1. Published table: 5 % 2.294, 10 % 1.667, 25 % 1.155.
 */
export function chipThinning(ae: Mm, diameter: Mm, cap: number = CHIP_THINNING_CAP.value): number {
  const x = ae / diameter;
  if (x >= 0.5) return 1;
  return Math.min(cap, 1 / (2 * Math.sqrt(x - x * x)));
}

/** The feed at the cutter's centre against the feed wanted at the edge, on an arc. */
export type ArcFeed =
  | { readonly kind: 'factor'; readonly factor: number; readonly limited: boolean }
  /** The inside contour is not wider than the cutter: there is no such path. */
  | { readonly kind: 'no-room' };

/** Inside an arc of wall radius `wall`: (Rw - r)/Rw, not below the table's least. Open machining reference on circular feeds. */
export function arcFeedInside(wall: Mm, cutterRadius: Mm, least: number = ARC_FEED.inside.value): ArcFeed {
  if (wall <= cutterRadius) return { kind: 'no-room' };
  const factor = (wall - cutterRadius) / wall;
  return { kind: 'factor', factor: Math.max(least, factor), limited: factor < least };
}

/** Outside an arc of wall radius `wall`: (Rw + r)/Rw, not above the table's most; a sharp corner (0) takes the cap. */
export function arcFeedOutside(wall: Mm, cutterRadius: Mm, most: number = ARC_FEED.outside.value): ArcFeed {
  const factor = wall > 0 ? (wall + cutterRadius) / wall : Number.POSITIVE_INFINITY;
  return { kind: 'factor', factor: Math.min(most, factor), limited: factor > most };
}

/** Way the cutter runs before a slab cut is at full depth: sqrt(d (D - d)). Groover, slab-milling problem. */
export function approachLength(depth: Mm, diameter: Mm): Mm {
  return Math.sqrt(depth * (diameter - depth));
}

function acosClamped(c: number): Rad {
  return Math.acos(Math.min(1, Math.max(-1, c)));
}
