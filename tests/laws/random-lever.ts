/** Random two- and three-boss levers with holes, as job files. Sizes span what section 1 of the design names. */
import { random } from '../runs.ts';

export interface RandomLever {
  readonly seed: number;
  readonly text: string;
}

const MATERIALS = ['CuZn39Pb3', '11SMn30', 'S275JR', 'EN-AW-6082-T6', '1.4305', 'POM'];

export function randomLever(seed: number): RandomLever {
  const r = random(seed);
  const pick = (lo: number, hi: number, step = 0.01) => Math.round((lo + r() * (hi - lo)) / step) * step;
  const thickness = pick(1.5, 5, 0.5);
  const count = r() < 0.5 ? 2 : 3;
  const first = { at: [0, 0], radius: pick(4, 8) };
  const bosses = [first];
  let x = 0;
  for (let i = 1; i < count; i++) {
    x += pick(16, 30);
    bosses.push({ at: [round(x), round(i === 1 ? pick(-3, 3) : pick(-10, 10))], radius: pick(3, 6) });
  }
  const turn = pick(0, 360, 1);
  const reach = x + 22;
  const size = Math.ceil(2 * reach + 30);
  const diameter = r() < 0.5 ? 3 : 4;
  const job = {
    name: `lever ${seed}`,
    material: MATERIALS[Math.floor(r() * MATERIALS.length)],
    part: {
      thickness,
      outline: { bosses: bosses.map((b) => ({ at: b.at, radius: round(b.radius) })), fillet: count === 3 ? 3 : 0 },
      holes: [
        { at: bosses[0]!.at, ream: 5 - (first.radius < 5 ? 2 : 0) },
        { at: bosses[count - 1]!.at, tap: 'M2.5' },
      ],
    },
    stock: { size: [size, size, thickness], measured: thickness },
    place: [{ at: [size / 2, size / 2], turn, mirror: r() < 0.3 }],
    clamps: [
      { from: [0, 0], to: [8, size], height: 12 },
      { from: [size - 8, 0], to: [size, size], height: 12 },
    ],
    machine: { travel: [300, 300, 200] },
    cutters: [
      {
        number: 1,
        kind: 'end mill',
        diameter,
        flutes: 2,
        fluteLength: 9,
        stickOut: 18,
        shank: 6,
        material: 'carbide',
        centreCutting: true,
      },
      { number: 2, kind: 'spot drill', diameter: 6, angle: 90 },
      { number: 3, kind: 'drill', diameter: 2.05 },
      { number: 4, kind: 'drill', diameter: 4.9 },
      { number: 5, kind: 'reamer', diameter: 5 },
      { number: 6, kind: 'drill', diameter: 2.9 },
      { number: 7, kind: 'reamer', diameter: 3 },
    ],
    hold: r() < 0.5 ? 'auto' : { by: 'tabs', tabs: { count: 3, width: 1.5, height: 0.6 } },
  };
  return { seed, text: JSON.stringify(job, null, 1) };
}

function round(v: number): number {
  return Math.round(v * 1000) / 1000;
}
