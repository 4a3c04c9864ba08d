/** Gauss-Legendre integration; nodes and weights of the 8-point rule (Abramowitz & Stegun, table 25.4). */

const NODES = [0.1834346424956498, 0.525532409916329, 0.7966664774136267, 0.9602898564975363];
const WEIGHTS = [0.362683783378362, 0.3137066458778873, 0.2223810344533745, 0.1012285362903763];

/** The eight places in [lo, hi] and their weights (which already carry the half width), handed to `use` one by one. */
export function eachGauss(lo: number, hi: number, use: (x: number, weight: number) => void): void {
  const half = (hi - lo) / 2;
  const mid = (hi + lo) / 2;
  for (let i = 0; i < 4; i++) {
    const step = half * NODES[i]!;
    const weight = half * WEIGHTS[i]!;
    use(mid - step, weight);
    use(mid + step, weight);
  }
}
