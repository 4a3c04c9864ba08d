/**
 * Holes are cut while the plate is whole: what a drill does to the plate then. Nothing is drilled once a part hangs on its tabs
 * (held over random jobs by tests/hold/evaluate/holes-first.test.ts), so no tab ever bears a drill's thrust, torque or pull.
 */
import { cube } from '../../base/powers.ts';
import { table } from '../../base/tables.ts';
import { short } from '../../base/text.ts';
import { type Mm, type Newton, toRad } from '../../base/units.ts';
import type { Point } from '../../geometry/types.ts';
import { drillChip, drillLoad } from '../../mechanics/cutting/drilling.ts';
import { wearFactor } from '../../mechanics/cutting/force-law.ts';
import type { Rect } from '../../mechanics/plate/plate.ts';
import type { Operation } from '../../plan/plan.ts';
import { hardestSet } from '../../trade/materials/materials.ts';
import type { HoldScene } from '../scene/scene.ts';

export interface Drilled {
  readonly operation: Operation;
  readonly at: Point;
  /** Greatest push or pull on the plate there, along the drill. */
  readonly force: Newton;
  readonly upwards: boolean;
  /** How far the plate gives there; null: no strip runs straight from the hole to a clamp. */
  readonly springs: Mm | null;
  /** Greatest pull of any drill that goes through. */
  readonly pull: Newton;
}

/** The hole at which the plate springs most; null: nothing is drilled in the plate. */
export function holesFirst(scene: HoldScene): Drilled | null {
  return scene.tables.once(DRILLED, [scene], () => worstHole(scene));
}

const DRILLED = table<[scene: HoldScene], Drilled | null>('the hole at which the plate springs most');

function worstHole(scene: HoldScene): Drilled | null {
  let worst: Drilled | null = null;
  let pull = 0;
  for (const op of scene.plan.setups[0]!.operations) {
    if (op.what !== 'drill' || op.target.kind !== 'holes') continue;
    const load = loadOf(scene, op);
    const through = op.depths.at(-1)! <= scene.bottom;
    if (through) pull = Math.max(pull, load.pull);
    for (const { at } of op.target.holes) {
      const compliance = stripCompliance(scene, at);
      // On a backing plate the stock cannot go down; the pull lifts it wherever it lies.
      const cases = [
        ...(through ? [{ force: load.pull, upwards: true }] : []),
        ...(scene.hollow ? [{ force: load.thrust, upwards: false }] : []),
      ];
      for (const c of cases) {
        const springs = compliance === null ? null : compliance * c.force;
        if (worst === null || (springs ?? -1) > (worst.springs ?? -1))
          worst = { operation: op, at, ...c, springs, pull };
      }
    }
  }
  return worst && { ...worst, pull };
}

/** As from the solid, with a worn point: errs high. */
function loadOf(scene: HoldScene, op: Operation) {
  const cutter = scene.plan.cutters.find((c) => c.number === op.cutter)!;
  const perTurn = op.feed / op.speed;
  const pointAngle = toRad(cutter.pointDeg);
  const metal = hardestSet(scene.material, drillChip(perTurn, pointAngle));
  const drill = { diameter: cutter.diameter, pointAngle, helix: toRad(cutter.helixDeg) };
  return drillLoad(drill, perTurn, metal, wearFactor(cutter.material));
}

/**
 * mm/N: the stiffest strip of plate that runs straight from the hole to a clamp, or between two, as a beam built in at the
 * clamps, no wider than it is long. The rest of the plate only makes it stiffer (Rayleigh): errs high.
 */
function stripCompliance(scene: HoldScene, at: Point): number | null {
  const { min, max } = scene.job.stock;
  const thick = scene.thickness + scene.job.stock.below - scene.thinnest;
  let least: number | null = null;
  for (const [along, across] of [
    [0, 1],
    [1, 0],
  ] as const) {
    const p = [at.x, at.y] as const;
    const beside = (r: Rect) => {
      const lo = along === 0 ? r.minY : r.minX;
      const hi = along === 0 ? r.maxY : r.maxX;
      return Math.min(p[across]! - lo, hi - p[across]!);
    };
    const room = Math.min(p[across]! - min[across]!, max[across]! - p[across]!);
    const reach = (sign: number) =>
      scene.held
        .map((r) => ({
          d: sign > 0 ? (along === 0 ? r.minX : r.minY) - p[along]! : p[along]! - (along === 0 ? r.maxX : r.maxY),
          half: Math.min(room, beside(r)),
        }))
        .filter((c) => c.d >= 0 && c.half > 0);
    const low = reach(-1);
    const high = reach(1);
    for (const a of [...low, ...high]) least = lesser(least, cantilever(scene, thick, a.d, a.half));
    for (const a of low) {
      for (const b of high) least = lesser(least, between(scene, thick, a.d, b.d, Math.min(a.half, b.half)));
    }
  }
  return least;
}

function lesser(a: number | null, b: number): number {
  return a === null ? b : Math.min(a, b);
}

function stiffness(scene: HoldScene, thick: Mm, half: Mm, length: Mm): number {
  return (scene.metal.modulus * Math.min(2 * half, length) * cube(thick)) / 12;
}

/** F a^3/(3 E I). */
function cantilever(scene: HoldScene, thick: Mm, a: Mm, half: Mm): number {
  return cube(a) / (3 * stiffness(scene, thick, half, Math.max(a, 1e-6)));
}

/** Built in at both ends, force between: F a^3 b^3/(3 E I L^3) (Roark, table of beams, from memory). */
function between(scene: HoldScene, thick: Mm, a: Mm, b: Mm, half: Mm): number {
  const length = a + b;
  return cube(a * b) / (3 * stiffness(scene, thick, half, Math.max(length, 1e-6)) * cube(Math.max(length, 1e-6)));
}

/** `glued`: the plate lies on its glue before the first hole, and springs nowhere. */
export function holesFirstWords(scene: HoldScene, glued: boolean): readonly string[] {
  const drilled = holesFirst(scene);
  if (drilled === null) return [];
  const pull =
    drilled.pull > 0 ? `, where drills pull with ${short(drilled.pull, 0)} N at most as they break through` : '';
  const springs = drilled.springs !== null && !glued ? ` and spring it ${short(drilled.springs, 3)} mm` : '';
  return [`holes are cut in the whole plate${pull}${springs}: none once the part hangs on what holds it`];
}
