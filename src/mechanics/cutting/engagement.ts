/**
 * How far round the cutter is engaged, and what the programmed feed must be so that the chip keeps its wanted thickness.
 * Angles are radians of cutter rotation; a slot is pi.
 */
import { arccosine, cosine } from '../../base/angles.ts';
import type { Mm, Rad } from '../../base/units.ts';
import { CHIP_THINNING_CAP } from '../../trade/milling-rules.ts';

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

/** Width of a straight cut that engages the cutter by the same angle: lets one force model serve every kind of path. */
export function equivalentWidth(diameter: Mm, phi: Rad): Mm {
  return (diameter * (1 - cosine(Math.min(phi, Math.PI)))) / 2;
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

function acosClamped(c: number): Rad {
  return arccosine(Math.min(1, Math.max(-1, c)));
}
