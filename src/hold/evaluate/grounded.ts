/** What holds a part straight from below: screws and glue, down to the backing plate. */
import { table } from '../../base/tables.ts';
import { whereIs } from '../../geometry/measure/inside.ts';
import type { Vector } from '../../mechanics/cutting/cut.ts';
import type { SupportLimit } from '../../mechanics/held/held-state.ts';
import { bondStiffness, CYANOACRYLATE } from '../../mechanics/support/glue.ts';
import { screwStiffness } from '../../mechanics/support/screw.ts';
import { assemble, type Support, springs } from '../../mechanics/support/supports.ts';
import { WANTED_MARGIN } from '../../trade/holding-rules.ts';
import type { HoldScene, ScenePart } from '../scene/scene.ts';
import { type HoldWay, LEVEL_AXES } from '../way.ts';
import { rimLimit } from './rim-strength.ts';

export interface GroundedSupports {
  readonly supports: readonly Support[];
  /** Of all of them about the part's own origin, 6x6: a face of glue is hundreds of springs, the same under every state. */
  readonly stiffness: Float64Array;
  /** Indexes of the supports of which one is the first to give up. */
  readonly first: readonly number[];
  readonly limit: (recover: Float64Array) => SupportLimit;
}

/** Screws and glue go straight down to the backing plate: the same for every plan of a job. */
export function groundedOf(scene: HoldScene, part: number, { screws, glue }: HoldWay): GroundedSupports {
  return scene.tables.once(GROUNDED, [scene.parts[part]!, JSON.stringify([screws, glue])], () => {
    const found = screws
      ? screwSupports(scene, part, screws)
      : glue
        ? bondSupports(scene, part, glue)
        : { supports: [], first: [], limit: noLimit };
    return { ...found, stiffness: assemble(found.supports, originOf(scene, part)) };
  });
}

const GROUNDED = table<[part: ScenePart, way: string], GroundedSupports>('screws and glue');

/** What motions of a part are about. */
export function originOf({ parts, bottom }: HoldScene, part: number): Vector {
  const { x, y } = parts[part]!.centre;
  return [x, y, bottom / 2];
}

type Supports = Omit<GroundedSupports, 'stiffness'>;

function noLimit(): never {
  throw new Error('no grounded support has a limit here: a bug');
}

function screwSupports(scene: HoldScene, part: number, screws: NonNullable<HoldWay['screws']>): Supports {
  const steel = { modulus: 210_000, poisson: 0.3 };
  const k = screwStiffness(screws, scene.thickness, steel, scene.metal);
  const r = screws.radius;
  const supports = screws.holes.map((index): Support => {
    const hole = scene.parts[part]!.holes.find((h) => h.index === index)!;
    const s = springs([hole.at.x, hole.at.y, scene.bottom], LEVEL_AXES, k.shear, k.shear, k.axial);
    // The clamped ring resists turning: axial springs over a disc r^2/4 about a diameter, shear r^2/2 about the screw.
    s.stiffness[21] = (k.axial * r * r) / 4;
    s.stiffness[28] = (k.axial * r * r) / 4;
    s.stiffness[35] = (k.shear * r * r) / 2;
    return s;
  });
  const limit = (recover: Float64Array): SupportLimit => ({
    kind: 'screw',
    wanted: WANTED_MARGIN.slip.value,
    recover,
    low: screws.low,
    friction: screws.friction,
    radius: r,
  });
  return { supports, first: supports.map((_, i) => i), limit };
}

/** Cells across the part's smaller side when glue is spread over its face. */
const CELLS = 8;

function bondSupports(scene: HoldScene, part: number, glue: NonNullable<HoldWay['glue']>): Supports {
  const { box, loop, holes } = scene.parts[part]!;
  const cell = Math.max(Math.min(box.maxX - box.minX, box.maxY - box.minY) / CELLS, 1);
  const stiffness = bondStiffness({ ...CYANOACRYLATE, wetted: glue.wetted });
  const nx = Math.max(1, Math.round((box.maxX - box.minX) / cell));
  const ny = Math.max(1, Math.round((box.maxY - box.minY) / cell));
  const dx = (box.maxX - box.minX) / nx;
  const dy = (box.maxY - box.minY) / ny;
  const area = dx * dy;
  const supports: Support[] = [];
  const cells: (readonly [number, number])[] = [];
  for (let i = 0; i < nx; i++) {
    for (let j = 0; j < ny; j++) {
      const p = { x: box.minX + (i + 0.5) * dx, y: box.minY + (j + 0.5) * dy };
      if (whereIs(loop, p) !== 'inside' || holes.some((h) => Math.hypot(h.at.x - p.x, h.at.y - p.y) < h.radius))
        continue;
      cells.push([i, j]);
      supports.push(
        springs(
          [p.x, p.y, scene.bottom],
          LEVEL_AXES,
          stiffness.out * area,
          stiffness.along * area,
          stiffness.up * area,
        ),
      );
    }
  }
  const rim = rimLimit(scene, part, glue);
  const limit = (recover: Float64Array): SupportLimit => ({
    kind: 'bond',
    wanted: WANTED_MARGIN.glue.value,
    // Springs bear no moments.
    recover: recover.subarray(0, 18),
    area: area * glue.wetted,
    shear: glue.shear,
    tension: glue.tension,
    rim,
  });
  return { supports, first: outermost(cells), limit };
}

/**
 * A stiff part pulls and shears the glue in proportion to its place, so that the sum of both is greatest at a corner of the
 * convex hull: such a cell is the first or the last of its column and of its row.
 */
function outermost(cells: readonly (readonly [number, number])[]): readonly number[] {
  const ends = (axis: 0 | 1) => {
    const found = new Map<number, { low: number; high: number }>();
    for (const cell of cells) {
      const line = found.get(cell[1 - axis]!) ?? { low: Infinity, high: -Infinity };
      found.set(cell[1 - axis]!, { low: Math.min(line.low, cell[axis]), high: Math.max(line.high, cell[axis]) });
    }
    return found;
  };
  const [rows, columns] = [ends(0), ends(1)];
  return cells.flatMap(([i, j], n) => {
    const row = rows.get(j)!;
    const column = columns.get(i)!;
    return (i === row.low || i === row.high) && (j === column.low || j === column.high) ? [n] : [];
  });
}
