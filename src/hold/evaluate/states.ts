/** The supports of one part in one state, joined to the plate and asked for their limits. */
import { arctangent2 } from '../../base/angles.ts';
import { table } from '../../base/tables.ts';
import type { Mm } from '../../base/units.ts';
import type { Vector } from '../../mechanics/cutting/cut.ts';
import type { HeldState, OwnCompliance, SupportLimit } from '../../mechanics/held/held-state.ts';
import { type Connector, frameCompliance, hang } from '../../mechanics/plate/hang.ts';
import type { EdgeSpot } from '../../mechanics/support/edge-spot.ts';
import { type FloorStrip, floorStiffness } from '../../mechanics/support/floor.ts';
import { stubShape } from '../../mechanics/support/stub.ts';
import { edgeAxes, recovery } from '../../mechanics/support/supports.ts';
import { layOn } from '../scene/candidates.ts';
import type { StockNet } from '../scene/net.ts';
import type { HoldScene } from '../scene/scene.ts';
import { modelOf, type TabModel, tabModel } from '../scene/shapes.ts';
import { rootOf, tabConnector } from '../scene/tab-connector.ts';
import type { HoldWay } from '../way.ts';
import type { StateKey } from './evaluate.ts';
import { groundedOf, originOf } from './grounded.ts';
import { NO_COMPLIANCE, ownCompliances } from './own-compliance.ts';

export interface BuiltState {
  readonly held: HeldState;
  readonly own: readonly OwnCompliance[];
}

/** null: loose. */
export function buildState(
  scene: HoldScene,
  net: StockNet,
  part: number,
  way: HoldWay,
  key: StateKey,
): BuiltState | null {
  scene.tables.mayStop();
  const models = tabModels(scene, way, key.thinned);
  const tabs = tabConnectors(scene, net, part, way, key.thinned);
  if (tabs === null) return null;
  const skin = key.below > 0 ? skinOf(scene, net, part) : NO_SKIN;
  const strip: FloorStrip = { thickness: key.below, span: scene.slotWidth };
  const connectors = [...tabs, ...skinConnectors(scene, skin, strip)];
  const grounded = groundedOf(scene, part, way);
  const origin = originOf(scene, part);
  const pair = (i: number, j: number) => {
    const [a, b] = [i - tabs.length, j - tabs.length];
    return skin.pairs[a]?.[b] ?? frameCompliance(net.compliance, connectors[i]!, connectors[j]!);
  };
  const body = hang(connectors, pair, grounded.stiffness, origin);
  if (body.kind === 'loose') return null;
  const metal = { wanted: null, stress: scene.strength, brittle: scene.material.brittle };
  const limits: SupportLimit[] = [
    ...tabs.map((_, i): SupportLimit => {
      return { kind: 'tab', ...metal, index: i, recover: body.recover[i]!, sections: models[i]!.sections };
    }),
    ...skin.strips.map(({ length }, i): SupportLimit => {
      return { kind: 'floor', ...metal, recover: body.recover[tabs.length + i]!, strip, length };
    }),
    ...grounded.first.map((i) =>
      grounded.limit(recovery({ origin, compliance: body.compliance }, grounded.supports[i]!)),
    ),
  ];
  const spread = skin.strips.length > 0 || way.glue !== null;
  const places = [...tabs, ...grounded.supports].map(({ at }) => ({ x: at[0], y: at[1] }));
  const { spots } = scene.parts[part]!;
  const own = spread ? spots.map(() => NO_COMPLIANCE) : ownCompliances(spots, places, scene.thickness, scene.metal);
  return { held: { origin, compliance: body.compliance, limits }, own };
}

/** Tabs and stub, `thinned` of the tabs already at their last height; null: one has nothing to be rooted in. */
export function tabConnectors(
  scene: HoldScene,
  net: StockNet,
  part: number,
  way: HoldWay,
  thinned: number,
): readonly Connector[] | null {
  const models = tabModels(scene, way, thinned);
  const places = way.stub ? [way.stub.place] : (way.tabs?.places ?? []);
  const out: Connector[] = [];
  for (const [i, place] of places.entries()) {
    const c = tabConnector(scene, net, layOn(scene, part, place), models[i]!);
    if (c === null) return null;
    out.push(c);
  }
  return out;
}

function tabModels(scene: HoldScene, { tabs, stub }: HoldWay, thinned: number): readonly TabModel[] {
  if (stub) {
    const cutterRadius = scene.cutter.diameter / 2;
    const { thickness: height, slotWidth: length } = scene;
    return [modelOf(scene, stubShape({ width: stub.width, height, length, cutterRadius }))];
  }
  if (!tabs) return [];
  return tabs.places.map((_, i) => tabModel(scene, tabs.width, i < thinned ? tabs.height : tabs.cutHeight));
}

/** What follows from the plate for the skin under a slot, whatever its thickness: its springs stand at the lower face. */
interface Skin {
  readonly strips: readonly (Pick<Connector, 'at' | 'axes' | 'root'> & { readonly length: Mm })[];
  /** The frame's give under strips a and b, b no greater than a. */
  readonly pairs: readonly (readonly Float64Array[])[];
}

const NO_SKIN: Skin = { strips: [], pairs: [] };

function skinOf(scene: HoldScene, net: StockNet, part: number): Skin {
  const { slotWidth, bottom } = scene;
  const { spots } = scene.parts[part]!;
  return scene.tables.once(SKINS, [net, part], () => {
    const strips = skinPlaces(spots).flatMap(({ s, length }) => {
      const at: Vector = [s.x, s.y, bottom];
      const axes = edgeAxes(arctangent2(s.ny, s.nx));
      const root = rootOf(net, { x: s.x + s.nx * slotWidth, y: s.y + s.ny * slotWidth }, at, axes);
      return root === null ? [] : [{ at, axes, root, length }];
    });
    const springs = strips.map((s): Connector => ({ ...s, order: 3, flexibility: new Float64Array(9) }));
    return {
      strips,
      pairs: springs.map((a, i) => springs.slice(0, i + 1).map((b) => frameCompliance(net.compliance, a, b))),
    };
  });
}

const SKINS = table<[net: StockNet, part: number], Skin>('the skin under a slot');

function skinConnectors(scene: HoldScene, skin: Skin, strip: FloorStrip): readonly Connector[] {
  const stiffness = floorStiffness(strip, scene.metal);
  return skin.strips.map(({ length, ...place }) => {
    const flexibility = new Float64Array(9);
    flexibility[0] = 1 / (stiffness.out * length);
    flexibility[4] = 1 / (stiffness.along * length);
    flexibility[8] = 1 / (stiffness.up * length);
    return { ...place, order: 3, flexibility };
  });
}

/**
 * Where the strips of a skin stand, one for two spots, midway between them: the same whichever way round the edge is counted. Each
 * with the length of edge that both spots stand for.
 */
export function skinPlaces(spots: readonly EdgeSpot[]): readonly { readonly s: EdgeSpot; readonly length: Mm }[] {
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
