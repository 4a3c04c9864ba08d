/**
 * Unknowns of the body. A node on the plan carries a plate's five (number 5 node + 0..4) or, in a block of solids, a column of
 * levels with three each. Where the two meet, the column moves as the plate does in the plane, and is free to swell: its upward
 * movement has an unknown at each level, the plate's own at the level next to the reference.
 */
import type { Mm } from '../../base/units.ts';
import { PLATE_DOFS } from './element/plate.ts';

/** A movement as a sum of unknowns. */
export interface Sum {
  readonly dofs: number[];
  readonly values: number[];
}

export type Component = 0 | 1 | 2;

export interface NodeColumn {
  readonly heights: readonly Mm[];
  /** Movement at a level. */
  readonly at: (level: number, component: Component) => Sum;
}

/** Gives out numbers of unknowns that no other block has. */
export interface Numbering {
  next: number;
}

export function plateAt(node: number, lift: Mm, component: Component): Sum {
  const first = PLATE_DOFS * node;
  if (component === 2) return { dofs: [first + 2], values: [1] };
  return { dofs: [first + component, first + component + 3], values: [1, lift] };
}

/** A column with unknowns of its own. */
export function freeColumn(heights: readonly Mm[], numbers: Numbering): NodeColumn {
  const first = numbers.next;
  numbers.next += 3 * heights.length;
  return { heights, at: (level, component) => ({ dofs: [first + 3 * level + component], values: [1] }) };
}

/** A column on the border to the plate. */
export function borderColumn(node: number, heights: readonly Mm[], reference: Mm, numbers: Numbering): NodeColumn {
  const first = numbers.next;
  numbers.next += heights.length;
  const middle = heights.reduce((b, z, k) => (Math.abs(z - reference) < Math.abs(heights[b]! - reference) ? k : b), 0);
  return {
    heights,
    at: (level, component) => {
      if (component < 2) return plateAt(node, heights[level]! - reference, component);
      return level === middle ? plateAt(node, 0, 2) : { dofs: [first + level], values: [1] };
    },
  };
}

/** A column whose nodes lie on another: a tab's root on the wall of the body. */
export function tiedColumn(heights: readonly Mm[], to: NodeColumn): NodeColumn {
  return { heights, at: (level, component) => movementAt(to, heights[level]!, component) };
}

/** A column that follows a plate without a border of its own. */
export function plateColumn(node: number, heights: readonly Mm[], reference: Mm): NodeColumn {
  return { heights, at: (level, component) => plateAt(node, heights[level]! - reference, component) };
}

/** Second order within each pair of intervals; levels 0 2 4 .. bound the layers. */
export function movementAt(column: NodeColumn, z: Mm, component: Component): Sum {
  const { heights } = column;
  let layer = 0;
  while (layer + 4 < heights.length && z > heights[layer + 2]!) layer += 2;
  const weights = through(heights, layer, z);
  const out: Sum = { dofs: [], values: [] };
  weights.forEach((w, k) => {
    if (w !== 0) addSum(out, column.at(layer + k, component), w);
  });
  return out;
}

export function addSum(into: Sum, { dofs, values }: Sum, by: number): void {
  dofs.forEach((d, i) => {
    into.dofs.push(d);
    into.values.push(by * values[i]!);
  });
}

/** Lagrange through three levels; a height beyond them is taken at the end. */
function through(heights: readonly Mm[], layer: number, z: Mm): readonly number[] {
  const [a, b, c] = [heights[layer]!, heights[layer + 1]!, heights[layer + 2]!];
  const at = Math.max(a, Math.min(c, z));
  return [
    ((at - b) * (at - c)) / ((a - b) * (a - c)),
    ((at - a) * (at - c)) / ((b - a) * (b - c)),
    ((at - a) * (at - b)) / ((c - a) * (c - b)),
  ];
}

/** Levels of layers, with the middle of each. */
export function levelsOf(bounds: readonly Mm[]): Mm[] {
  return bounds.flatMap((z, i) => (i === 0 ? [z] : [(bounds[i - 1]! + z) / 2, z]));
}
