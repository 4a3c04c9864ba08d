/**
 * What a way of holding costs by hand, minutes: at the bench, and while the machine stands. All common practice with hand tools (a piercing
 * saw and needle files): fair to compare ways by, not a promise.
 */
import type { Minute, Mm } from '../../base/units.ts';
import { loopLength } from '../../geometry/measure/loop.ts';
import type { HoldScene } from '../scene/scene.ts';
import type { HoldWay } from '../way.ts';

export interface BenchEffort {
  readonly bench: Minute;
  /** While the machine stands. */
  readonly stops: Minute;
  /** Edge to be filed or dressed, and metal sawn through. */
  readonly length: Mm;
  readonly area: number;
  /** Plates used up beside the stock. */
  readonly plates: number;
}

/**
 * Minutes of one practised person at the vise, own estimates (mark: common practice): so long a tab to find the line and turn
 * the part, so long a mm2 in brass or mild steel to saw and to file flush. No published table was found; only their order
 * between the ways counts.
 */
const PER_TAB: Minute = 0.4;
const SAW_PER_MM2: Minute = 0.15;
const FILE_PER_MM2: Minute = 0.3;
/** A thinned tab is snapped with pliers, not sawn. */
const SNAP_UNDER: Mm = 0.45;
const TRIM_FLOOR_PER_MM: Minute = 0.04;
const DRESS_FLOOR: Minute = 3;
const SCREW_BENCH: Minute = 0.7;
/** The backing tapped by hand through the bore, the screw fitted. */
const SCREW_FITTED: Minute = 2;
const STOP: Minute = 0.5;
const GLUE_BENCH: Minute = 20;
const STUB_SHAPE_PER_MM2: Minute = 0.5;

export function effortOf(scene: HoldScene, way: HoldWay): BenchEffort {
  const n = scene.parts.length;
  let bench = 0;
  let stops = 0;
  let length = 0;
  let area = 0;
  if (way.tabs) {
    const each = way.tabs.places.length === 0 ? 0 : tabMinutes(way.tabs.width, way.tabs.height);
    const count = way.tabs.places.length * n;
    bench += count * each;
    length += count * way.tabs.width;
    area += count * way.tabs.width * way.tabs.height;
  }
  if (way.floor > 0 && !way.glue) {
    const edge = loopLength(scene.parts[0]!.loop) * n;
    bench += DRESS_FLOOR * n + edge * TRIM_FLOOR_PER_MM;
    length += edge;
    area += edge * way.floor;
  }
  if (way.screws) {
    bench += way.screws.holes.length * n * SCREW_BENCH;
    stops += way.screws.holes.length * n * SCREW_FITTED + STOP;
  }
  if (way.glue) bench += GLUE_BENCH;
  if (way.stub) {
    const cut = way.stub.width * scene.thickness * n;
    bench += PER_TAB * n + cut * (SAW_PER_MM2 + STUB_SHAPE_PER_MM2);
    length += way.stub.width * n;
    area += cut;
  }
  return { bench, stops, length, area, plates: way.screws || way.glue ? 1 : 0 };
}

/** Sawing (or snapping) one tab and filing its stump flush. */
export function tabMinutes(width: Mm, height: Mm): Minute {
  const area = width * height;
  return PER_TAB + (height < SNAP_UNDER ? 0 : area * SAW_PER_MM2) + area * FILE_PER_MM2;
}
