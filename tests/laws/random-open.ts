/** Random parts with pockets that run over the edge: blind and through, straight out, askew, flush, round a corner, right across. */
import { box } from '../box.ts';
import { random } from '../runs.ts';

export interface OpenJob {
  readonly seed: number;
  readonly text: string;
  readonly post: 'standard' | 'plain' | 'lines' | 'inch';
  readonly has: readonly string[];
}

const POSTS = ['standard', 'plain', 'lines', 'inch'] as const;
const MATERIALS = ['EN-AW-6082-T6', 'CuZn39Pb3', 'C45', 'POM'] as const;
const SHAPES = ['out', 'askew', 'flush', 'corner', 'across', 'spread', 'narrowing', 'boss'] as const;

/** All on a floor: where tabs may stand beside a mouth has a test of its own. */
export function randomOpenJob(seed: number): OpenJob {
  const unit = random(seed);
  const between = (low: number, high: number) => Math.round(20 * (low + (high - low) * unit())) / 20;
  const one = <T>(of: readonly T[]): T => of[Math.floor(unit() * of.length)]!;
  const shape = one(SHAPES);
  const width = between(3.4, 9);
  const deep = between(3, 14);
  const thickness = one([2, 3, 4]);
  const through = shape !== 'across' && unit() < 0.4;
  const [long, wide] = [40, 26];
  const plate = {
    vertices: [
      [3, 0],
      [long - 3, 0, 0.414213562],
      [long, 3],
      [long, wide],
      [0, wide],
      [0, 3, 0.414213562],
    ],
  };
  const lever = {
    bosses: [
      { at: [8, 13], radius: 8 },
      { at: [32, 13], radius: 7 },
    ],
  };
  const x = between(10, 24);
  const over = one([0.3, 3, 12]);
  const outlines: Record<(typeof SHAPES)[number], object> = {
    out: { slot: { from: [x, wide - deep], to: [x, wide + width / 2 + over], width } },
    askew: { slot: { from: [x, wide - deep], to: [x + between(-8, 8), wide + 10], width } },
    flush: box(x, wide - deep, x + width, wide),
    corner: box(long - width, wide - deep, long + over, wide + over),
    across: box(x, -over, x + width, wide + over),
    spread: {
      vertices: [
        [x, wide - deep],
        [x + width, wide - deep],
        [x + width + 3, wide + 1],
        [x - 3, wide + 1],
      ],
    },
    narrowing: {
      vertices: [
        [x - 2, wide - deep],
        [x + width + 2, wide - deep],
        [x + width, wide + over],
        [x, wide + over],
      ],
    },
    boss: { slot: { from: [32 - between(-3, 3), 13], to: [60, 13 + between(-4, 4)], width } },
  };
  const mirrored = unit() < 0.3;
  const job = {
    name: `open ${seed}`,
    material: one(MATERIALS),
    part: {
      thickness,
      outline: shape === 'boss' ? lever : plate,
      pockets: [{ outline: outlines[shape], ...(through ? { through: true } : { depth: thickness / 2 }) }],
      ...(unit() < 0.3 ? { chamfer: 0.2 } : {}),
    },
    stock: { size: [200, 170, thickness] },
    place: [{ at: [100, 80], mirror: mirrored, turn: one([0, 0, 90, 17]) }],
    machine: { travel: [400, 400, 250] },
    hold: { by: 'floor', thickness: 0.2 },
  };
  return { seed, text: JSON.stringify(job), post: one(POSTS), has: [shape, through ? 'through' : 'blind'] };
}
