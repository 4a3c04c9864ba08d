/**
 * A plate of any outline on springs under its lower face, as square cells: its stretching by bilinear elements, its bending by the
 * energy of differences (Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, eq. 119, with free edges coming of
 * themselves). The springs along feel the lower face, so stretching and bending act on one another.
 */
import type { ElasticModuli } from '../../src/mechanics/support/beam.ts';
import type { SpreadStiffness } from '../../src/mechanics/support/floor.ts';

export interface PlateOnSprings {
  readonly h: number;
  /** Index of the node at column i, row j; -1: none. */
  readonly at: (i: number, j: number) => number;
  /** Greatest pull and shear of the springs under a force [x, y, up], shared by some nodes, at a height from 0 (film) to 1 (upper face). */
  readonly peaks: (
    nodes: readonly (readonly [number, number])[],
    force: readonly [number, number, number],
    height: number,
  ) => { readonly pull: number; readonly shear: number };
}

type Term = readonly (readonly [movement: number, factor: number])[];

export function plateOnSprings(
  size: readonly [columns: number, rows: number],
  h: number,
  inside: (x: number, y: number) => boolean,
  plate: { readonly thickness: number; readonly metal: ElasticModuli },
  spring: SpreadStiffness,
): PlateOnSprings {
  const cell = (i: number, j: number) =>
    [0, 1].every((a) =>
      [0, 1].every(
        (b) => i + a >= 0 && j + b >= 0 && i + a < size[0] && j + b < size[1] && inside((i + a) * h, (j + b) * h),
      ),
    );
  const around = (i: number, j: number) => [0, -1].flatMap((a) => [0, -1].filter((b) => cell(i + a, j + b))).length;
  const numbers = new Map<string, number>();
  const nodes: [number, number][] = [];
  for (let i = 0; i < size[0]; i++)
    for (let j = 0; j < size[1]; j++)
      if (around(i, j) > 0) {
        numbers.set(`${i} ${j}`, nodes.length);
        nodes.push([i, j]);
      }
  const at = (i: number, j: number) => numbers.get(`${i} ${j}`) ?? -1;
  const { thickness: t, metal } = plate;
  const nu = metal.poisson;
  const stretch = (metal.modulus * t) / (1 - nu * nu);
  const bend = (stretch * t * t) / 12;

  /** Slope of the deflection along an axis, by the nodes there are. */
  const slope = (i: number, j: number, axis: number): Term => {
    const [di, dj] = axis === 0 ? [1, 0] : [0, 1];
    const [on, back, here] = [at(i + di, j + dj), at(i - di, j - dj), at(i, j)];
    const [p, q, d] = on >= 0 && back >= 0 ? [on, back, 2 * h] : on >= 0 ? [on, here, h] : [here, back, h];
    return [
      [3 * p + 2, 1 / d],
      [3 * q + 2, -1 / d],
    ];
  };
  const lower = (i: number, j: number, axis: number): Term => [
    [3 * at(i, j) + axis, 1],
    ...slope(i, j, axis).map(([m, f]) => [m, (f * t) / 2] as const),
  ];

  const rows = nodes.flatMap(() => [new Map<number, number>(), new Map<number, number>(), new Map<number, number>()]);
  /** Energy: half of `weight` times the square of the sum. */
  const square = (term: Term, weight: number) => {
    for (const [a, fa] of term)
      for (const [b, fb] of term) if (b <= a) rows[a]!.set(b, (rows[a]!.get(b) ?? 0) + weight * fa * fb);
  };

  for (const [i, j] of nodes) {
    const area = (around(i, j) / 4) * h * h;
    const w = (a: number, b: number) => 3 * at(i + a, j + b) + 2;
    square([[w(0, 0), 1]], spring.up * area);
    square(lower(i, j, 0), spring.out * area);
    square(lower(i, j, 1), spring.along * area);
    const bentX: Term = [
      [w(1, 0), 1 / h ** 2],
      [w(0, 0), -2 / h ** 2],
      [w(-1, 0), 1 / h ** 2],
    ];
    const bentY: Term = [
      [w(0, 1), 1 / h ** 2],
      [w(0, 0), -2 / h ** 2],
      [w(0, -1), 1 / h ** 2],
    ];
    const [x, y] = [bentX, bentY].map((b) => b.every(([m]) => m >= 0));
    // Beside an edge nothing bends the plate across: it curls by nu.
    const alone = x && y ? 1 - nu : 1 - nu * nu;
    if (x) square(bentX, bend * area * alone);
    if (y) square(bentY, bend * area * alone);
    if (x && y) square([...bentX, ...bentY], bend * area * nu);
    if (cell(i, j)) {
      const twist: Term = [
        [w(0, 0), 1 / h ** 2],
        [w(1, 0), -1 / h ** 2],
        [w(0, 1), -1 / h ** 2],
        [w(1, 1), 1 / h ** 2],
      ];
      square(twist, 2 * bend * (1 - nu) * h * h);
      stretchCell(i, j);
    }
  }

  /** Bilinear, by Gauss's four points. */
  function stretchCell(i: number, j: number): void {
    const corners = [at(i, j), at(i + 1, j), at(i + 1, j + 1), at(i, j + 1)];
    for (const a of [-GAUSS, GAUSS])
      for (const b of [-GAUSS, GAUSS]) {
        const dx = [b - 1, 1 - b, 1 + b, -1 - b].map((v) => v / (2 * h));
        const dy = [a - 1, -1 - a, 1 + a, 1 - a].map((v) => v / (2 * h));
        const ex: Term = corners.map((c, k) => [3 * c, dx[k]!]);
        const ey: Term = corners.map((c, k) => [3 * c + 1, dy[k]!]);
        const shear: Term = corners.flatMap(
          (c, k) =>
            [
              [3 * c, dy[k]!],
              [3 * c + 1, dx[k]!],
            ] as const,
        );
        const weight = (stretch * h * h) / 4;
        square(ex, weight * (1 - nu));
        square(ey, weight * (1 - nu));
        square([...ex, ...ey], weight * nu);
        square(shear, (weight * (1 - nu)) / 2);
      }
  }

  const solve = factored(rows);
  return {
    h,
    at,
    peaks(loaded, force, height) {
      const load = new Float64Array(rows.length);
      const arm = (height - 0.5) * t;
      for (const [i, j] of loaded) {
        force.forEach((f, k) => {
          load[3 * at(i, j) + k]! += f / loaded.length;
        });
        for (const axis of [0, 1])
          for (const [m, f] of slope(i, j, axis)) load[m]! -= (force[axis]! * arm * f) / loaded.length;
      }
      const moved = solve(load);
      const of = (term: Term) => term.reduce((sum, [m, f]) => sum + f * moved[m]!, 0);
      let pull = 0;
      let shear = 0;
      for (const [i, j] of nodes) {
        // Springs are linear: the force the other way pulls where this one presses.
        pull = Math.max(
          pull,
          spring.up * Math.abs(moved[3 * at(i, j) + 2]!) * (force[2] > 0 ? Math.sign(moved[3 * at(i, j) + 2]!) : 1),
        );
        shear = Math.max(shear, Math.hypot(spring.out * of(lower(i, j, 0)), spring.along * of(lower(i, j, 1))));
      }
      return { pull, shear };
    },
  };
}

const GAUSS = 1 / Math.sqrt(3);

/** Cholesky of a symmetric matrix given by the lower halves of its rows, within its envelope. */
function factored(rows: readonly ReadonlyMap<number, number>[]): (load: Float64Array) => Float64Array {
  const first = rows.map((r, i) => Math.min(i, ...r.keys()));
  const l = rows.map((r, i) => Float64Array.from({ length: i - first[i]! + 1 }, (_, k) => r.get(first[i]! + k) ?? 0));
  for (const [i, row] of l.entries()) {
    const fi = first[i]!;
    for (let j = fi; j <= i; j++) {
      const other = l[j]!;
      const fj = first[j]!;
      let sum = row[j - fi]!;
      for (let m = Math.max(fi, fj); m < j; m++) sum -= row[m - fi]! * other[m - fj]!;
      row[j - fi] = j === i ? Math.sqrt(sum) : sum / other[j - fj]!;
    }
  }
  return (load) => {
    const x = Float64Array.from(load);
    for (const [i, row] of l.entries()) {
      for (let m = first[i]!; m < i; m++) x[i]! -= row[m - first[i]!]! * x[m]!;
      x[i]! /= row.at(-1)!;
    }
    for (let i = x.length - 1; i >= 0; i--) {
      const row = l[i]!;
      x[i]! /= row.at(-1)!;
      for (let m = first[i]!; m < i; m++) x[m]! -= row[m - first[i]!]! * x[i]!;
    }
    return x;
  };
}
