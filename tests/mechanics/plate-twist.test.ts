/** The net of rails in twist against the plate and the bar it stands for: never stiffer, and not much softer. */
import { describe, expect, it } from 'vitest';
import type { RailFrame } from '../../src/mechanics/plate/frame.ts';
import { type NodeCompliance, nodeCompliance, plateFrame } from '../../src/mechanics/plate/plate.ts';
import { shearModulus, torsionConstant } from '../../src/mechanics/support/beam.ts';

const STEEL = { modulus: 210_000, poisson: 0.3 };

function netOver(long: number, wide: number, thickness: number): RailFrame {
  return plateFrame({
    stock: { minX: 0, minY: 0, maxX: long, maxY: wide },
    thickness,
    z: 0,
    held: [],
    windows: [],
    stays: (x, y) => x >= 0 && x <= long && y >= 0 && y <= wide,
    metal: STEEL,
    density: 7.85e-9,
  });
}

function near(frame: RailFrame, x: number, y: number): number {
  const far = (n: number) => Math.hypot(frame.nodes[n]![0] - x, frame.nodes[n]![1] - y);
  return frame.nodes.reduce((best, _, i) => (far(i) < far(best) ? i : best), 0);
}

function giveOf(frame: RailFrame, clamped: readonly number[], nodes: readonly number[]): NodeCompliance {
  const solved = nodeCompliance({ ...frame, clamped }, nodes);
  if (solved.kind !== 'compliance') throw new Error('unclamped');
  return solved.compliance;
}

/** Movement up of node `a` under loads up on all. */
function lift(give: NodeCompliance, a: number, loads: readonly number[]): number {
  return loads.reduce((sum, f, b) => sum + f * give.blocks[36 * (a * give.nodes.length + b) + 14]!, 0);
}

describe('twist', () => {
  // Timoshenko & Woinowsky-Krieger, Theory of Plates and Shells, sec. 11: forces +-P at the corners bend a plate to
  // w = P x y/(2 D (1 - nu)) about its middle, which neither moves nor turns.
  it.each([1, 2, 4])(
    '[F formula] a square plate of %d mm loaded at its corners takes the form P xy/(2 D (1 - nu))',
    (t) => {
      const side = 105;
      const frame = netOver(side, side, t);
      const [lo, hi] = [2.5, side - 2.5];
      const corners = [near(frame, lo, lo), near(frame, hi, lo), near(frame, hi, hi), near(frame, lo, hi)];
      const quarter = near(frame, side / 4, side / 4);
      const give = giveOf(frame, [near(frame, side / 2, side / 2)], [...corners, quarter]);
      const loads = [1, -1, 1, -1, 0];
      const d = (STEEL.modulus * t ** 3) / (12 * (1 - STEEL.poisson ** 2));
      const form = (n: number) => {
        const [x, y] = frame.nodes[give.nodes[n]!]!;
        return ((x - side / 2) * (y - side / 2)) / (2 * d * (1 - STEEL.poisson));
      };
      // The corner nodes stand half a cell inside: the plate proper is up to (105/100)^2 stiffer than
      // the form between them. With both rails as stiff as bars the ratio was 0.55 at 1 mm.
      for (const n of [0, 1, 2, 3, 4]) {
        const ratio = lift(give, n, loads) / form(n);
        expect(ratio).toBeGreaterThan((100 / 105) ** 2);
        expect(ratio).toBeLessThan(1);
      }
    },
  );

  it.each([4.5, 10, 15, 20])('[F formula] a strip %d mm wide twists as a bar of its section, or more', (wide) => {
    const t = 3;
    const frame = netOver(200, wide, t);
    const end = frame.nodes.flatMap((n, i) => (n[0] < 5 ? [i] : []));
    const at = [60, 140].flatMap((x) => [near(frame, x, 0), near(frame, x, wide)]);
    const far = near(frame, 200, wide / 2);
    const give = giveOf(frame, end, [...at, far]);
    const count = give.nodes.length;
    // A unit torque at the far end; the turn about X between two sections well away from both ends.
    const turn = (k: number) => give.blocks[36 * (k * count + 4) + 21]!;
    const span = frame.nodes[at[2]!]![0] - frame.nodes[at[0]!]![0];
    const bar = span / (shearModulus(STEEL) * torsionConstant(wide, t));
    const ratio = (turn(2) + turn(3) - turn(0) - turn(1)) / 2 / bar;
    expect(ratio).toBeGreaterThan(1 - 1e-6);
    expect(ratio).toBeLessThan(1.1);
  });
});
