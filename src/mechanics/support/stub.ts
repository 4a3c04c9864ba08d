/** A part held by one stub of its own stock: a tab as long as the slot is wide, carrying everything alone. */
import type { Mm } from '../../base/units.ts';
import type { TabShape } from './tab-shape.ts';

export interface StubSize {
  readonly width: Mm;
  readonly height: Mm;
  /** From the part to where the stock is gripped or whole. */
  readonly length: Mm;
  readonly cutterRadius: Mm;
}

/** A stub as a tab shape: fillets of the cutter at both ends. Use tab-stress.ts on it. */
export function stubShape(stub: StubSize): TabShape {
  return { waist: stub.width, height: stub.height, cutterRadius: stub.cutterRadius, slotWidth: stub.length };
}
