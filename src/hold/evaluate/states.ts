/** The supports of one part in one state, joined to the plate and asked for their limits. */
import type { Mm, Rad } from '../../base/units.ts';
import type { Vector } from '../../mechanics/cutting/cut.ts';
import type { HeldState, Limit, OwnGive } from '../../mechanics/held/held-state.ts';
import { type Connector, frameGive, hang } from '../../mechanics/plate/hang.ts';
import type { EdgeSpot } from '../../mechanics/support/edge-spot.ts';
import { type FloorStrip, floorStiffness } from '../../mechanics/support/floor.ts';
import { stubShape } from '../../mechanics/support/stub.ts';
import { edgeAxes, recovery } from '../../mechanics/support/supports.ts';
import type { TabShape } from '../../mechanics/support/tab-shape.ts';
import { layOn } from '../scene/candidates.ts';
import type { StockNet } from '../scene/net.ts';
import type { HoldScene } from '../scene/scene.ts';
import { FINE, flexibilityOf, sectionsOf, tabShapeOf } from '../scene/shapes.ts';
import { tabConnector } from '../scene/tab-connector.ts';
import type { Way } from '../way.ts';
import { groundedOf } from './grounded.ts';
import { NO_GIVE, ownGives } from './own-give.ts';
import type { StateKey } from './reckon.ts';

export interface BuiltState {
  readonly held: HeldState;
  readonly own: readonly OwnGive[];
}

/** null: loose. */
export function buildState(scene: HoldScene, net: StockNet, part: number, way: Way, key: StateKey): BuiltState | null {
  const tabs = tabConnectors(scene, net, part, way, key.thinned);
  if (tabs === null) return null;
  const shapes = tabShapes(scene, way, key.thinned);
  const skin = key.below > 0 ? skinConnectors(scene, net, part, key.below) : [];
  const connectors = [...tabs, ...skin.map((s) => s.connector)];
  const grounded = groundedOf(scene, part, way);
  const centre = scene.parts[part]!.centre;
  const origin: Vector = [centre.x, centre.y, scene.bottom / 2];
  const known = skinPairs(net, part);
  const pair = (i: number, j: number) => {
    const [a, b] = [i - tabs.length, j - tabs.length];
    if (a < 0 || b < 0) return frameGive(net.give, connectors[i]!, connectors[j]!);
    const key = 100 * a + b;
    const found = known.get(key) ?? frameGive(net.give, connectors[i]!, connectors[j]!);
    known.set(key, found);
    return found;
  };
  const body = hang(connectors, pair, grounded.supports, origin);
  if (body.kind === 'loose') return null;
  const limits: Limit[] = [
    ...tabs.map(
      (_, i): Limit => ({
        kind: 'tab',
        wanted: null,
        index: i,
        recover: body.recover[i]!,
        sections: sectionsOf(shapes[i]!, FINE),
        stress: scene.strength,
        brittle: scene.material.brittle,
      }),
    ),
    ...skin.map(
      (s, i): Limit => ({
        kind: 'floor',
        wanted: null,
        recover: body.recover[tabs.length + i]!,
        strip: s.strip,
        length: s.length,
        stress: scene.strength,
        brittle: scene.material.brittle,
      }),
    ),
    ...grounded.first.map((i) =>
      grounded.limit(recovery({ origin, compliance: body.compliance }, grounded.supports[i]!)),
    ),
  ];
  const spread = skin.length > 0 || way.glue !== null;
  const places = [
    ...tabs.map((t) => ({ x: t.at[0], y: t.at[1] })),
    ...grounded.supports.map((s) => ({ x: s.at[0], y: s.at[1] })),
  ];
  const { spots } = scene.parts[part]!;
  const own = spread ? spots.map(() => NO_GIVE) : ownGives(spots, places, scene.thickness, scene.metal);
  return { held: { origin, compliance: body.compliance, limits }, own };
}

/** The frame's give under a skin is the same for every thickness of it: the springs stand at the lower face. */
function skinPairs(net: StockNet, part: number): Map<number, Float64Array> {
  let parts = pairsOfNet.get(net);
  if (parts === undefined) {
    parts = [];
    pairsOfNet.set(net, parts);
  }
  parts[part] ??= new Map();
  return parts[part];
}

const pairsOfNet = new WeakMap<StockNet, Map<number, Float64Array>[]>();

/** Tabs and stub, `thinned` of the tabs already at their last height; null: one has nothing to be rooted in. */
export function tabConnectors(
  scene: HoldScene,
  net: StockNet,
  part: number,
  way: Way,
  thinned: number,
): readonly Connector[] | null {
  const shapes = tabShapes(scene, way, thinned);
  const places = way.stub ? [way.stub.place] : (way.tabs?.places ?? []);
  const out: Connector[] = [];
  for (const [i, place] of places.entries()) {
    const shape = shapes[i]!;
    const flexibility = flexibilityOf(shape, scene);
    const c = tabConnector(scene, net, layOn(scene, part, place), shape, flexibility);
    if (c === null) return null;
    out.push(c);
  }
  return out;
}

function tabShapes(scene: HoldScene, way: Way, thinned: number): readonly TabShape[] {
  const { tabs, stub } = way;
  if (stub) {
    const cutterRadius = scene.cutter.diameter / 2;
    return [stubShape({ width: stub.width, height: scene.thickness, length: scene.slotWidth, cutterRadius })];
  }
  if (!tabs) return [];
  return tabs.places.map((_, i) => tabShapeOf(scene, tabs.width, i < thinned ? tabs.height : tabs.cutHeight));
}

interface Skin {
  readonly connector: Connector;
  readonly strip: FloorStrip;
  readonly length: Mm;
}

/** One strip for two spots, midway between them: the same strips whichever way round the edge is counted. */
function skinConnectors(scene: HoldScene, net: StockNet, part: number, thickness: Mm): Skin[] {
  const { spots } = scene.parts[part]!;
  const strip: FloorStrip = { thickness, span: scene.slotWidth };
  const stiffness = floorStiffness(strip, scene.metal);
  const out: Skin[] = [];
  for (const { s, length } of pairsOf(spots)) {
    const root = net.root({ x: s.x + s.nx * scene.slotWidth, y: s.y + s.ny * scene.slotWidth });
    if (root === null) continue;
    const flexibility = new Float64Array(9);
    flexibility[0] = 1 / (stiffness.out * length);
    flexibility[4] = 1 / (stiffness.along * length);
    flexibility[8] = 1 / (stiffness.up * length);
    const angle: Rad = Math.atan2(s.ny, s.nx);
    const at: Vector = [s.x, s.y, scene.bottom];
    out.push({ connector: { at, axes: edgeAxes(angle), order: 3, flexibility, root }, strip, length });
  }
  return out;
}

/** Spots two by two: the place midway, and the length of edge that both stand for. */
export function pairsOf(spots: readonly EdgeSpot[]): readonly { readonly s: EdgeSpot; readonly length: Mm }[] {
  const between = (a: EdgeSpot, b: EdgeSpot) => Math.hypot(a.x - b.x, a.y - b.y);
  const at = (i: number) => spots[(i + spots.length) % spots.length]!;
  return spots.flatMap((a, i) => {
    if (i % 2 === 1) return [];
    const b = at(i + 1);
    const [nx, ny] = [a.nx + b.nx, a.ny + b.ny];
    const size = Math.hypot(nx, ny);
    // Round a spike the normals cancel: the first of the two stands for both.
    const normal = size > 1e-6 ? { nx: nx / size, ny: ny / size } : { nx: a.nx, ny: a.ny };
    const length = between(at(i - 1), a) / 2 + between(a, b) + between(b, at(i + 2)) / 2;
    return [{ s: { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2, ...normal }, length }];
  });
}
