/** A way of holding evaluated: the state of every part at every pass that loads its edge. */
import type { Hertz, Mm } from '../../base/units.ts';
import { condensedModes } from '../../mechanics/plate/condensed-modes.ts';
import { frameMass } from '../../mechanics/plate/frame.ts';
import type { EdgeSpot } from '../../mechanics/support/edge-spot.ts';
import type { Evaluation, HeldPart, Moment, PartState } from '../holding.ts';
import { layOn } from '../scene/candidates.ts';
import { type Pass, passesOf } from '../scene/loads.ts';
import type { StockNet } from '../scene/net.ts';
import { massOf } from '../scene/part-mass.ts';
import type { HoldScene } from '../scene/scene.ts';
import type { HoldWay } from '../way.ts';
import { groundedOf } from './grounded.ts';
import { buildState, tabConnectors } from './states.ts';

export type Evaluated =
  | { readonly kind: 'evaluated'; readonly evaluation: Evaluation }
  /** Part and the state in which nothing resists some movement of it. */
  | { readonly kind: 'loose'; readonly part: number; readonly state: string };

/** `only`: passes looked at; all unless given. */
export function evaluate(
  scene: HoldScene,
  net: StockNet,
  way: HoldWay,
  only: (kind: Pass['kind']) => boolean = () => true,
): Evaluated {
  const passes = passesFor(scene, way).filter((p) => only(p.kind));
  const keys = stateKeys(passes, way);
  const parts: HeldPart[] = [];
  for (const index of scene.parts.keys()) {
    const states: PartState[] = [];
    for (const key of keys) {
      const state = buildState(scene, net, index, way, key);
      if (state === null) return { kind: 'loose', part: index, state: nameOf(key) };
      states.push({ ...state, name: nameOf(key) });
    }
    parts.push({ spots: scene.parts[index]!.spots, tabSpots: tabSpots(scene, index, way), states });
  }
  const moments = passes.map(
    ({ below, ...p }): Moment => ({
      ...p,
      kind: p.kind === 'through' && way.floor > 0 ? 'solid below' : p.kind,
      state: keys.findIndex((k) => sameKey(k, keyOf(p.kind, below, p.pass, way))),
    }),
  );
  const { slotWidth, hollow } = scene;
  return { kind: 'evaluated', evaluation: { parts, moments, modes: [], slotWidth, hollow } };
}

function tabSpots(scene: HoldScene, part: number, way: HoldWay): EdgeSpot[] {
  return (way.tabs?.places ?? []).map((place) => {
    const { at, normal } = layOn(scene, part, place);
    return { x: at.x, y: at.y, nx: normal.x, ny: normal.y };
  });
}

export function passesFor(scene: HoldScene, way: HoldWay): readonly Pass[] {
  const heights = way.tabs ? { cut: way.tabs.cutHeight, left: way.tabs.height, count: way.tabs.places.length } : null;
  return passesOf(scene, way.floor, heights);
}

/** What stands at a moment: metal below the slot, and how many tabs have been thinned. */
export interface StateKey {
  readonly below: Mm;
  readonly thinned: number;
}

function keyOf(kind: Pass['kind'], below: Mm, pass: number, way: HoldWay): StateKey {
  const thinned = kind === 'lightening' ? pass + 1 : 0;
  return { below: way.floor > 0 ? Math.max(below, 0) : below, thinned };
}

function stateKeys(passes: readonly Pass[], way: HoldWay): StateKey[] {
  const keys: StateKey[] = [];
  for (const p of passes) {
    const key = keyOf(p.kind, p.below, p.pass, way);
    if (!keys.some((k) => sameKey(k, key))) keys.push(key);
  }
  return keys;
}

function sameKey(a: StateKey, b: StateKey): boolean {
  return a.thinned === b.thinned && Math.abs(a.below - b.below) < 1e-6;
}

function nameOf(key: StateKey): string {
  if (key.below > 0) return `on ${key.below.toFixed(2)} mm of metal below`;
  return key.thinned > 0 ? `with ${key.thinned} of its tabs thinned` : 'cut through';
}

const MODES = 4;
/** Places of the plate that keep their share of its mass; more change the lowest frequency by little. */
const MASTERS = 8;

/** Frequencies take as long as all the rest: only of the holding that is chosen. */
export function modesOf(scene: HoldScene, net: StockNet, way: HoldWay): readonly Hertz[] {
  const count = net.compliance.nodes.length;
  const { mass, place } = frameMass(net.frame);
  const modes = condensedModes(
    {
      compliance: net.compliance,
      places: net.compliance.nodes.map((n) => net.frame.nodes[n]!),
      metal: net.frame.nodes.flatMap((at, i) => (place[6 * i]! < 0 ? [] : [{ at, mass: mass[place[6 * i]!]! }])),
      masters: Array.from({ length: Math.min(MASTERS, count) }, (_, i) => Math.floor((i * count) / MASTERS)),
    },
    tabConnectors(scene, net, 0, way, 0) ?? [],
    groundedOf(scene, 0, way).supports,
    massOf(scene, 0),
    MODES,
  );
  return modes.kind === 'loose' ? [] : [...modes.frequencies].slice(0, MODES);
}
