/** What is asked of any edge: its pieces, where they are, and what is inside. */
import { EMPTY_BOX, uniteBoxes } from '../../geometry/measure/loop.ts';
import { segmentBox } from '../../geometry/measure/segment.ts';
import type { Box, Point, Segment } from '../../geometry/types.ts';

export interface Edge {
  /** The inside on their left. */
  readonly pieces: readonly Segment[];
  readonly boxes: readonly Box[];
  readonly box: Box;
  inside(p: Point): boolean;
}

export function withBoxes(pieces: readonly Segment[], inside: (p: Point) => boolean): Edge {
  const boxes = pieces.map(segmentBox);
  return { pieces, boxes, box: boxes.reduce(uniteBoxes, EMPTY_BOX), inside };
}
