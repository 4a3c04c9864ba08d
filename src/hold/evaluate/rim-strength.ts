/**
 * What glue bears at the rim of a part. The means that a glued plate may be asked (2 and 1 N/mm2) are a fifth to a tenth of what
 * joints bore on the average of their face, so they judge what a stiff part spreads. In such a joint the film's ends bear several
 * times the average, in the very springs that lie under a part: its peaks, derated alike, are what a rim may be asked. Both
 * act there at once, so a rim that stays below each of them is no worse than the joint.
 */
import type { Mm } from '../../base/units.ts';
import { circle, line, segmentLength } from '../../geometry/measure/segment.ts';
import { turningAbout } from '../../geometry/measure/turning.ts';
import { meetPoints } from '../../geometry/meet.ts';
import type { Loop, Segment } from '../../geometry/types.ts';
import type { ElasticModuli } from '../../mechanics/support/beam.ts';
import type { EdgeSpot } from '../../mechanics/support/edge-spot.ts';
import { CYANOACRYLATE, type GlueFilm } from '../../mechanics/support/glue.ts';
import { lapPeaks } from '../../mechanics/support/lap-joint.ts';
import { type RimCompliance, type RimLimit, rimCompliance, rimReach } from '../../mechanics/support/rim.ts';
import { GLUE_ALLOWABLE, LAP_SPECIMEN } from '../../trade/holding-rules.ts';
import type { HoldScene } from '../scene/scene.ts';

/** Structural steel's, as everywhere. */
const STEEL: ElasticModuli = { modulus: 210_000, poisson: 0.3 };

export interface GlueAsked {
  readonly shear: number;
  readonly tension: number;
  readonly wetted: number;
}

export function rimLimit(scene: HoldScene, part: number, glue: GlueAsked): RimLimit {
  const { shear, tension, peelLine } = GLUE_ALLOWABLE;
  // A job may trust its glue more or less than usual: by its lesser figure.
  const trust = Math.min(glue.shear / shear.value, glue.tension / tension.value);
  const joint = {
    thickness: LAP_SPECIMEN.thickness.value,
    overlap: LAP_SPECIMEN.overlap.value,
    metal: STEEL,
  };
  // Steel on steel has the lower peaks of the metals tested. The whole overlap was wetted.
  const peaks = lapPeaks(joint, { ...CYANOACRYLATE, wetted: 1 }, LAP_SPECIMEN.strength.value);
  const derated = (trust * shear.value) / LAP_SPECIMEN.strength.value;
  return {
    bottom: scene.bottom,
    thickness: scene.thickness,
    compliances: rimCompliances(scene, part, { ...CYANOACRYLATE, wetted: glue.wetted }),
    pull: derated * peaks.pull,
    shear: derated * peaks.shear,
    line: trust * peelLine.value,
  };
}

/** Of each spot, the sharpest place of the edge that it stands for. */
function rimCompliances(scene: HoldScene, part: number, bond: GlueFilm): ReadonlyMap<EdgeSpot, RimCompliance> {
  const { spots, loop, holes } = scene.parts[part]!;
  const edges = [...loop, ...holes.map((h) => circle(h.at, h.radius))];
  const plate = { thickness: scene.thickness, metal: scene.metal };
  const reach = rimReach(bond, plate);
  const radii = sharpest(loop, spots.length, reach);
  return new Map<EdgeSpot, RimCompliance>(
    spots.map((s, i) => [s, rimCompliance(bond, plate, { radius: radii[i]!, breadth: breadthAt(s, edges) })]),
  );
}

/** From a spot straight in to the first edge met: the far side, or a hole. */
function breadthAt(s: EdgeSpot, edges: readonly Segment[]): Mm {
  const inward = line({ x: s.x, y: s.y }, { x: s.x - FAR * s.nx, y: s.y - FAR * s.ny });
  const far = edges.flatMap((e) => meetPoints(inward, e)).map(({ point }) => Math.hypot(point.x - s.x, point.y - s.y));
  return Math.min(...far.filter((d) => d > OWN_EDGE));
}

/** Longer than any part. */
const FAR: Mm = 1e5;
/** Nearer than this is the spot's own edge. */
const OWN_EDGE: Mm = 0.01;

/** Least radius within each of `count` equal stretches of an outline: at its middle, and at the ends and middles of the pieces in it. */
function sharpest(loop: Loop, count: number, reach: Mm): number[] {
  const places = looked(loop);
  const length = places.at(-1)!;
  const middles = Array.from({ length: count }, (_, i) => ((i + 0.5) * length) / count);
  const radii = middles.map(() => Number.POSITIVE_INFINITY);
  for (const s of [...places, ...middles]) {
    const i = Math.min(count - 1, Math.floor((s * count) / length));
    const turning = turningAbout(loop, s, reach);
    if (turning > 0) radii[i] = Math.min(radii[i]!, (2 * reach) / turning);
  }
  return radii;
}

function looked(loop: Loop): number[] {
  let s = 0;
  return loop.flatMap((segment) => {
    const half = segmentLength(segment) / 2;
    s += 2 * half;
    return [s - half, s];
  });
}
