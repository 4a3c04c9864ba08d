/** Which cuts of a pocket must come before which. */
import type { Mm } from '../../base/units.ts';
import { segmentGap } from '../../geometry/measure/distance.ts';
import { segmentBox } from '../../geometry/measure/segment.ts';
import type { Box, Chain } from '../../geometry/types.ts';
import type { Item } from './grow.ts';

/** For each item the earlier ones within reach, which open the way for it. Others may come before or after: fronts in other arms. */
export function needs(items: readonly Item[], reach: Mm): readonly (readonly number[])[] {
  const paths = items.map(pathsOf);
  const boxes = paths.map((all) => all.map(segmentBox));
  const isNear = (i: number, k: number) =>
    paths[i]!.some((s, m) =>
      paths[k]!.some((t, n) => apart(boxes[i]![m]!, boxes[k]![n]!) < reach && segmentGap(s, t).distance < reach),
    );
  return items.map((_, i) => Array.from({ length: i }, (_, k) => k).filter((k) => isNear(i, k)));
}

function pathsOf(item: Item): Chain {
  if (item.kind === 'cut') return item.chain;
  const { centre, radius } = item;
  const a = { x: centre.x + radius, y: centre.y };
  return [{ kind: 'arc', a, b: a, centre, radius, sweep: 2 * Math.PI }];
}

function apart(a: Box, b: Box): Mm {
  return Math.max(a.minX - b.maxX, b.minX - a.maxX, a.minY - b.maxY, b.minY - a.maxY);
}
