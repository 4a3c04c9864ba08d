/** Floor, screws and glue: whether they can be used on this job at all, and how they are set up. */
import { short } from '../../base/text.ts';
import type { Mm } from '../../base/units.ts';
import { distanceToLoop } from '../../geometry/measure/distance.ts';
import { handTorque, preload, threadPullOut } from '../../mechanics/support/screw.ts';
import type { HoldRequest, Hole } from '../../part/part.ts';
import { FLOOR_RULES, FRICTION, GLUE_ALLOWABLE } from '../../trade/holding-rules.ts';
import { findMaterial } from '../../trade/materials/materials.ts';
import { counterboreFor } from '../../trade/threads/heads.ts';
import { findThread } from '../../trade/threads/threads.ts';
import type { HoldScene } from '../scene/scene.ts';
import { type HoldWay, NO_WAY, type ScrewsWay } from '../way.ts';

export type WayOutcome =
  | { readonly kind: 'way'; readonly way: HoldWay; readonly reasons: readonly string[] }
  | { readonly kind: 'unusable'; readonly why: string; readonly code: string };

export const unusable = (code: string, why: string): WayOutcome => ({ kind: 'unusable', code, why });

/** Under this a floor is a rag: it tears before it holds. */
const LEAST_FLOOR: Mm = 0.05;

export function floorWay(scene: HoldScene, thickness: Mm = FLOOR_RULES.usual.value): WayOutcome {
  const { job } = scene;
  if (thickness >= scene.thickness) return unusable('floor-too-thick', 'the floor would be as thick as the part');
  if (job.stock.measured === null && job.stock.below === 0) {
    return unusable(
      'floor-unmeasured',
      `the plate is not measured: it may be ${short(scene.thinnest, 3)} mm thin, which would cut through or spoil a floor of ${short(thickness)} mm`,
    );
  }
  if (thickness - scene.thinnest < LEAST_FLOOR) {
    return unusable(
      'floor-too-thin',
      `a floor of ${short(thickness)} mm in a plate that may be ${short(scene.thinnest, 3)} mm thin or off flat is cut through`,
    );
  }
  return {
    kind: 'way',
    way: { ...NO_WAY, by: 'floor', floor: thickness },
    reasons: [
      `a floor of ${short(thickness)} mm stays under the slot all round; it is trimmed and dressed off at the bench`,
      ...(scene.hollow ? ['nothing lies under the floor: it sags under the cutter'] : []),
    ],
  };
}

export function screwsWay(scene: HoldScene, request: Extract<HoldRequest, { by: 'screws' }> | null): WayOutcome {
  const { job } = scene;
  if (job.under.kind !== 'plate') return unusable('screws-without-plate', 'no backing plate lies under the stock');
  const holes = request
    ? request.through.map((i) => job.part.holes.find((h) => h.index === i)!)
    : screwable(job.part.holes);
  if (holes.length === 0) return unusable('screws-no-bore', 'no bore goes right through for an M2 screw or larger');
  const size = request ? request.thread : largestCommon(scene, holes);
  if (size === null) return unusable('screws-no-room', 'no screw head fits on the part beside the edge');
  const found = findThread(size);
  if (found.kind === 'unknown') return unusable('screws-thread', `${size} is no known thread`);
  const thread = found.value;
  const tight = holes.find((h) => h.diameter < thread.major - 1e-9);
  if (tight) {
    return unusable(
      'screw-hole-small',
      `hole ${tight.index + 1} passes ${short(tight.diameter)} mm and ${thread.name} is ${short(thread.major)}`,
    );
  }
  const covered = holes.find((h) => headRadius(thread.name, thread.major) > roomAt(scene, h) + 1e-9);
  if (covered) {
    return unusable(
      'screw-head-over-edge',
      `the head of ${thread.name} reaches over the edge at hole ${covered.index + 1}, into the cutter's way`,
    );
  }
  const radius = Math.min(...holes.map((h) => Math.min(thread.major, roomAt(scene, h))));
  const way: ScrewsWay = {
    holes: holes.map((h) => h.index),
    thread: thread.name,
    major: thread.major,
    pitch: thread.pitch,
    low: lowPreload(scene, thread.name),
    friction: FRICTION.smooth.machined.value * scene.material.frictionFactor.value,
    radius,
  };
  const only = holes.length === 1 ? ['one screw alone: only its own friction keeps the part from turning'] : [];
  return {
    kind: 'way',
    way: { ...NO_WAY, by: 'screws', screws: way },
    reasons: [
      `${thread.name} screws through hole${holes.length > 1 ? 's' : ''} ${holes.map((h) => h.index + 1).join(', ')}, reckoned at ${short(way.low, 0)} N each: tightened by hand, the worst torque coefficient`,
      ...only,
      'sequence: drill the bores through into the backing, stop, tap the backing and fit the screws, then the profile',
      'the screw heads stand above the face: the path keeps clear of them',
    ],
  };
}

/** Through bores that an M2 screw or larger passes; tapped holes count by their tapping drill. */
function screwable(holes: readonly Hole[]): readonly Hole[] {
  return holes.filter((h) => h.depth === null && h.diameter >= 2);
}

const SIZES = ['M6', 'M5', 'M4', 'M3', 'M2.5', 'M2'] as const;

/** The largest screw that passes the two largest bores (or the only one) with its head on the part. */
function largestCommon(scene: HoldScene, holes: readonly Hole[]): string | null {
  const fits = (size: string) =>
    holes.every((h) => {
      const thread = findThread(size);
      return (
        thread.kind === 'found' &&
        h.diameter >= thread.value.major - 1e-9 &&
        headRadius(size, thread.value.major) <= roomAt(scene, h) + 1e-9
      );
    });
  return SIZES.find(fits) ?? null;
}

function headRadius(size: string, major: Mm): Mm {
  return (counterboreFor(size)?.headDiameter ?? 1.8 * major) / 2;
}

function roomAt(scene: HoldScene, h: Hole): Mm {
  return distanceToLoop(scene.job.part.outline.loop, h.at);
}

/** Class 8.8 screw, by hand, and no more than half of what the thread in the backing plate bears. */
function lowPreload(scene: HoldScene, size: string): number {
  const found = findThread(size);
  if (found.kind === 'unknown') return 0;
  const thread = found.value;
  const byHand = preload(handTorque(thread, '8.8'), thread.major).low;
  const plate = findMaterial(scene.job.under.material);
  const tensile = plate.kind === 'found' ? plate.value.strengths[0].tensile : SOFT_PLATE;
  const engaged = Math.min(2 * thread.major, scene.job.under.thickness);
  return Math.min(byHand, threadPullOut(thread.major, engaged, SHEAR_OF_TENSILE * tensile) / 2);
}

/** Ultimate shear over Rm, 0.6-0.65 (from memory); an unlisted backing is taken as soft aluminium. */
const SHEAR_OF_TENSILE = 0.6;
const SOFT_PLATE = 100;

export function glueWay(scene: HoldScene, request: Extract<HoldRequest, { by: 'glue' }> | null): WayOutcome {
  const { material, job } = scene;
  if (!material.glueing.glueable) return unusable('glue-material', `${material.name}: ${material.glueing.reason}`);
  if (job.under.kind !== 'plate') return unusable('glue-without-plate', 'no plate lies under the stock to glue to');
  const wetted = (GLUE_ALLOWABLE.wetted.low + GLUE_ALLOWABLE.wetted.high) / 2;
  const glue = request ?? { shear: GLUE_ALLOWABLE.shear.value, tension: GLUE_ALLOWABLE.tension.value, wetted };
  return {
    kind: 'way',
    way: { ...NO_WAY, by: 'glue', glue: { shear: glue.shear, tension: glue.tension, wetted: glue.wetted } },
    reasons: [
      `cyanoacrylate on ${Math.round(glue.wetted * 100)} % of the face, ${short(glue.shear)} N/mm2 in shear and ${short(glue.tension)} in pull allowed`,
      'sequence: grind or lap both faces, glue with the rim wetted all round, cure, cut dry or with little coolant, free by heat (ventilate) or acetone',
    ],
  };
}
