/** A tab as what joins a part to the plate, for the search of places. */
import type { Vector } from '../../mechanics/cutting/cut.ts';
import type { Connector } from '../../mechanics/plate/hang.ts';
import { edgeAxes } from '../../mechanics/support/supports.ts';
import type { TabShape } from '../../mechanics/support/tab-shape.ts';
import type { Laid } from './candidates.ts';
import type { StockNet } from './net.ts';
import type { HoldScene } from './scene.ts';

/** null: no frame to be rooted in. */
export function tabConnector(
  scene: HoldScene,
  net: StockNet,
  laid: Laid,
  shape: TabShape,
  flexibility: Float64Array,
): Connector | null {
  const root = net.root(laid.root);
  if (root === null) return null;
  const at: Vector = [laid.at.x, laid.at.y, scene.bottom + scene.thinnest + shape.height / 2];
  return { at, axes: edgeAxes(laid.angle), order: 6, flexibility, root };
}
