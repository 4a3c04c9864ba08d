/** A part held by one stub of its own stock: a tab as long as the slot is wide, carrying everything alone. */
import type { Mm } from '../../base/units.ts';
import type { Vector } from '../cutting/cut.ts';
import type { Elastic } from './beam.ts';
import { edgeAxes, type Support } from './supports.ts';
import { tabFlexibility, tabStiffness } from './tab.ts';
import type { TabShape } from './tab-shape.ts';

export interface Stub {
  readonly width: Mm;
  readonly height: Mm;
  /** From the part to where the stock is gripped or whole. */
  readonly length: Mm;
  readonly cutterRadius: Mm;
}

/** A stub as a tab shape: fillets of the cutter at both ends. Use tab-stress.ts on it. */
export function stubShape(stub: Stub): TabShape {
  return { waist: stub.width, height: stub.height, cutterRadius: stub.cutterRadius, slotWidth: stub.length };
}

/** Its support on the part at `at` (edge, mid height), outward normal `angle`. Walls as thick as the stub itself. */
export function stubSupport(stub: Stub, at: Vector, angle: number, metal: Elastic): Support {
  const walls = { part: stub.height, frame: stub.height };
  return { at, axes: edgeAxes(angle), stiffness: tabStiffness(tabFlexibility(stubShape(stub), metal, walls)) };
}
