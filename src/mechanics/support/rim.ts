/**
 * A plate on its glue, pushed at the rim: what the film bears there beyond what a stiff part would spread. Lift bends the edge
 * up over the film; a push in the plane shears it, and tips the edge, because it acts above or below the plate's middle.
 *
 * The lift at a long straight edge is Westergaard's edge load on a plate on springs, 0.89 lambda^2 P (Public Roads, 1926, from
 * memory). The other figures bound a net of plate elements on springs for straight edges, narrow strips and round ends, with
 * the force spread over one thickness of the plate: never below it, and within twice at a long edge and at the tip of a round
 * end (tests/mechanics/support/rim.test.ts). Metal left in the slot below a pass is not counted (safe side).
 */
import { cube, logarithm, power } from '../../base/powers.ts';
import type { Mm, Newton, Stress } from '../../base/units.ts';
import type { ElasticModuli } from './beam.ts';
import type { EdgeSpot } from './edge-spot.ts';
import { bondStiffness, characteristic, type GlueFilm } from './glue.ts';

export interface RimCompliance {
  /** Pull across the film, N/mm2 per newton of lift. */
  readonly lift: number;
  /** The same per newton in the plane that acts at the film, half way up and at the upper face; in between it is no more than in proportion. */
  readonly aside: readonly [low: number, middle: number, top: number];
  /** Shear along the film, N/mm2 per newton in the plane. */
  readonly shear: number;
  /** Lift on a millimetre of edge, per newton of it. */
  readonly line: number;
}

/** What a rim may be asked. */
export interface RimLimit {
  readonly compliances: ReadonlyMap<EdgeSpot, RimCompliance>;
  /** Z of the film. */
  readonly bottom: Mm;
  readonly thickness: Mm;
  readonly pull: Stress;
  readonly shear: Stress;
  /** Lift on a millimetre of edge, N/mm. */
  readonly line: number;
}

/** How narrow the part is about a place of its edge. */
export interface RimPlace {
  /** Of an edge that bulges out, or of what a corner amounts to; Infinity where it is straight or hollow. */
  readonly radius: Mm;
  /** Metal inward to the far edge. */
  readonly breadth: Mm;
}

export interface RimPush {
  readonly spot: EdgeSpot;
  readonly z: Mm;
  readonly out: Newton;
  readonly along: Newton;
  readonly up: Newton;
}

/** Times the push that the rim bears. `pull`, `shear`: what a stiff part makes of it, added (safe side: the rim bears the whole already). */
export function rimMargin(rim: RimLimit, push: RimPush, pull: Stress, shear: Stress): number {
  const load = rimLoad(rim, push);
  return (
    1 / Math.max((load.pull + Math.max(0, pull)) / rim.pull, (load.shear + shear) / rim.shear, load.line / rim.line)
  );
}

/** What a push does to the film under its place, and the lift on a millimetre of edge. */
export function rimLoad(rim: RimLimit, push: RimPush): Pick<RimLimit, 'pull' | 'shear' | 'line'> {
  const compliance = rim.compliances.get(push.spot);
  if (compliance === undefined) throw new Error('a glued part is pushed at a place that is none of its spots: a bug');
  const lift = Math.max(0, push.up);
  const aside = Math.hypot(push.out, push.along);
  const height = Math.max(0, Math.min(1, (push.z - rim.bottom) / rim.thickness));
  const [low, middle, top] = compliance.aside;
  const tips = height < 0.5 ? low + (middle - low) * 2 * height : middle + (top - middle) * (2 * height - 1);
  return { pull: compliance.lift * lift + tips * aside, shear: compliance.shear * aside, line: compliance.line * lift };
}

export function rimCompliance(
  bond: GlueFilm,
  plate: { readonly thickness: Mm; readonly metal: ElasticModuli },
  place: RimPlace,
): RimCompliance {
  const { up, along } = bondStiffness(bond);
  const lambda = characteristic(up, plate.thickness, plate.metal);
  const shearLength = Math.sqrt((plate.metal.modulus * plate.thickness) / along);
  const radius = Math.min(place.radius, STRIP * place.breadth);
  const tight = 1 / (lambda * radius);
  const y = shearLength / radius;
  const lift = 0.9 + 0.8 * tight;
  const shear = 1.5 * logarithm((2 * shearLength) / plate.thickness) + 1.2 * y + 0.9 * power(y, 1.5);
  // The springs are smeared over the face: where it is wetted the film bears the share of what is not.
  const asideBy = (cube(lambda) * plate.thickness) / bond.wetted;
  return {
    lift: (lift * lambda ** 2) / bond.wetted,
    aside: [
      asideBy * (0.42 + 0.25 * tight + 0.17 * tight ** 2),
      asideBy * (0.1 + 0.08 * tight + 0.26 * tight ** 2),
      asideBy * (0.55 + 0.3 * tight + 0.38 * tight ** 2),
    ],
    shear: shear / shearLength ** 2 / bond.wetted,
    // A line load q alone makes 2 q lambda (Hetenyi): that which makes the same pull.
    line: (lift * lambda) / 2,
  };
}

/** A strip so broad gives at its side as a round end of this share of its breadth does. */
const STRIP = 0.9;

/** Half the stretch of edge whose turning makes a corner or a curve: by it a sharp square corner counts as a round end of 0.5/lambda. */
export function rimReach(bond: GlueFilm, plate: { readonly thickness: Mm; readonly metal: ElasticModuli }): Mm {
  return 0.4 / characteristic(bondStiffness(bond).up, plate.thickness, plate.metal);
}
