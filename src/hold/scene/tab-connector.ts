/** What joins a part to the plate: a tab, or a strip of the skin below a pass. */
import type { Vector } from '../../mechanics/cutting/cut.ts';
import type { Connector } from '../../mechanics/plate/hang.ts';
import { type Axes, edgeAxes, toLocal } from '../../mechanics/support/supports.ts';
import type { Laid } from './candidates.ts';
import type { StockNet } from './net.ts';
import type { HoldScene } from './scene.ts';
import type { TabModel } from './shapes.ts';

/** null: no frame to be rooted in. */
export function tabConnector(
  scene: HoldScene,
  net: StockNet,
  laid: Laid,
  { shape, flexibility }: TabModel,
): Connector | null {
  const at: Vector = [laid.at.x, laid.at.y, scene.bottom + scene.thinnest + shape.height / 2];
  const axes = edgeAxes(laid.angle);
  const root = rootOf(net, laid.root, at, axes);
  return root && { at, axes, order: 6, flexibility, root };
}

/** Of a connector on the part at `at`; null: nothing solid is near. */
export function rootOf(net: StockNet, root: Laid['root'], at: Vector, axes: Axes): Connector['root'] {
  const found = net.root(root);
  return found && { index: found.index, rows: toLocal({ at, axes }, found.at) };
}
