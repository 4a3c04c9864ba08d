/** Flared tabs as strips for the independent plane-stress solver. */
import type { Strip } from './plane-fe.ts';

/** Half width of a tab between two discs, written out again here so that the solver does not lean on src. */
function half(w: number, r: number, length: number, s: number): number {
  const d = s < r ? r - s : Math.max(0, s - (length - r));
  return w / 2 + r - Math.sqrt(Math.max(0, r * r - d * d));
}

function rowsOf(r: number, length: number, n: number): number[] {
  const flare = Array.from({ length: n + 1 }, (_, i) => r * (1 - Math.cos((Math.PI / 2) * (i / n))));
  const flat = length - 2 * r > 1e-9 ? Array.from({ length: 9 }, (_, i) => r + ((length - 2 * r) * (i + 1)) / 10) : [];
  const rows = [
    ...flare,
    ...flat,
    ...flare
      .slice()
      .reverse()
      .map((s) => length - s),
  ].filter((s, i, a) => i === 0 || s - a[i - 1]! > 1e-9);
  rows[rows.length - 1] = length;
  return rows;
}

/** In the plane of the plate, between two blocks reaching `size` root widths, outer edges held. */
export function planStrip(
  w: number,
  r: number,
  length: number,
  h: number,
  size: number,
  modulus = 210_000,
  poisson = 0.3,
): Strip {
  const root = w + 2 * r;
  return {
    length,
    lower: (s) => -half(w, r, length, s),
    upper: (s) => half(w, r, length, s),
    thickness: () => h,
    rows: rowsOf(r, length, 20),
    across: 12,
    block: {
      depth: size * root,
      lower: -(size + 0.5) * root,
      upper: (size + 0.5) * root,
      thickness: h,
      sidesHeld: 'both',
    },
    modulus,
    poisson,
  };
}

/** Upright: seen from the side, flush with the lower face of walls of thickness `wall`, as thick out of the plane as the tab is wide. */
export function uprightStrip(
  w: number,
  r: number,
  length: number,
  h: number,
  wall: number,
  modulus = 210_000,
  poisson = 0.3,
): Strip {
  return {
    length,
    lower: () => -h / 2,
    upper: () => h / 2,
    thickness: (s) => 2 * half(w, r, length, s),
    rows: rowsOf(r, length, 16),
    across: 8,
    block: { depth: wall, lower: -h / 2, upper: wall - h / 2, thickness: w + 2 * r, sidesHeld: 'upper' },
    modulus,
    poisson,
  };
}
