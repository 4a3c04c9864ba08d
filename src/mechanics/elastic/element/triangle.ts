/** Six-node triangle with straight sides: shape functions of second order and rules of integration. Barycentric l0, l1, l2. */

/** Corners on the plan, counter-clockwise. */
export type Corners = readonly [x0: number, y0: number, x1: number, y1: number, x2: number, y2: number];

/** N of corners 0 1 2 and of the middles of 01, 12, 20. */
export function shapes(l0: number, l1: number, l2: number): number[] {
  return [l0 * (2 * l0 - 1), l1 * (2 * l1 - 1), l2 * (2 * l2 - 1), 4 * l0 * l1, 4 * l1 * l2, 4 * l2 * l0];
}

/** dN/dx and dN/dy, six numbers each. */
export function slopes(g: Gradients, l0: number, l1: number, l2: number): readonly [number[], number[]] {
  const along = (d: readonly [number, number, number]) => [
    (4 * l0 - 1) * d[0],
    (4 * l1 - 1) * d[1],
    (4 * l2 - 1) * d[2],
    4 * (l0 * d[1] + l1 * d[0]),
    4 * (l1 * d[2] + l2 * d[1]),
    4 * (l2 * d[0] + l0 * d[2]),
  ];
  return [along(g.x), along(g.y)];
}

export interface Gradients {
  readonly area: number;
  /** Of the three barycentrics. */
  readonly x: readonly [number, number, number];
  readonly y: readonly [number, number, number];
}

export function gradients([x0, y0, x1, y1, x2, y2]: Corners): Gradients {
  const twice = (x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0);
  return {
    area: twice / 2,
    x: [(y1 - y2) / twice, (y2 - y0) / twice, (y0 - y1) / twice],
    y: [(x2 - x1) / twice, (x0 - x2) / twice, (x1 - x0) / twice],
  };
}

export type Place = readonly [l0: number, l1: number, l2: number, weight: number];

const around = (a: number, w: number): Place[] => {
  const b = 1 - 2 * a;
  return [
    [b, a, a, w],
    [a, b, a, w],
    [a, a, b, w],
  ];
};

/** Exact to degree 2 and 4 (Dunavant, Int. J. Numer. Meth. Engng 21, 1985, table II). Weights sum to 1. */
export const RULE_2: readonly Place[] = around(1 / 6, 1 / 3);
export const RULE_4: readonly Place[] = [
  ...around(0.445948490915965, 0.223381589678011),
  ...around(0.091576213509771, 0.109951743655322),
];
/** Degree 6, twelve points: for areas of support whose edge crosses an element. */
export const RULE_6: readonly Place[] = [
  ...around(0.24928674517091, 0.116786275726379),
  ...around(0.063089014491502, 0.050844906370207),
  ...[
    [0.053145049844817, 0.310352451033784, 0.636502499121399],
    [0.310352451033784, 0.636502499121399, 0.053145049844817],
    [0.636502499121399, 0.053145049844817, 0.310352451033784],
    [0.310352451033784, 0.053145049844817, 0.636502499121399],
    [0.636502499121399, 0.310352451033784, 0.053145049844817],
    [0.053145049844817, 0.636502499121399, 0.310352451033784],
  ].map(([a, b, c]): Place => [a!, b!, c!, 0.082851075618374]),
];
