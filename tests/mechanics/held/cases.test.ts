/** [F] textbook form named; [D] = derived check. */
import { describe, expect, it } from 'vitest';
import { climb, type Vector } from '../../../src/mechanics/cutting/cut.ts';
import { forceCases } from '../../../src/mechanics/cutting/force.ts';
import { forceLaws } from '../../../src/mechanics/cutting/force-law.ts';
import { DAMPING, magnification, toothPassing, worstHarmonic } from '../../../src/mechanics/cutting/vibration.ts';
import { pointCompliance, worstMovement, worstTabStress } from '../../../src/mechanics/held/cases.ts';
import { tabSections, tabStress } from '../../../src/mechanics/held/tab-stress.ts';
import {
  edgeAxes,
  holdBody,
  loadAt,
  motionUnder,
  movementAt,
  recovery,
  supportForce,
} from '../../../src/mechanics/support/supports.ts';
import { tabFlexibility, tabStiffness } from '../../../src/mechanics/support/tab.ts';
import { material } from '../../../src/trade/materials/materials.ts';
import { random, runs, SEED } from '../../runs.ts';

const shape = { waist: 2, height: 0.8, cutterRadius: 1.5, slotWidth: 3.4 };
const stiffness = tabStiffness(tabFlexibility(shape, { modulus: 97_000, poisson: 0.33 }, { part: 4, frame: 4 }));
const tabs = (
  [
    [16, 6, 1.4],
    [30, -4, -1],
    [-6, -2, 3.4],
  ] as const
).map(([x, y, angle]) => ({ at: [x, y, -3.6] as Vector, axes: edgeAxes(angle), stiffness }));
const held = holdBody(tabs);
if (held.kind !== 'held') throw new Error('loose');
const body = held;

describe('many cases at one place', () => {
  it('[D] fast movement and stress equal the plain route, case by case', () => {
    const rand = random(SEED);
    const sections = tabSections(shape);
    let seen = 0;
    for (let n = 0; n < runs(300); n++) {
      const at: Vector = [rand() * 40 - 8, rand() * 12 - 6, -4 * rand()];
      const feedAngle = rand() * 7;
      const cases = Float64Array.from({ length: 30 }, () => rand() * 100 - 50);
      const [c, s] = [Math.cos(feedAngle), Math.sin(feedAngle)];
      let across = 0,
        up = 0;
      const stress = tabs.map(() => 0);
      for (let i = 0; i < 30; i += 3) {
        const force: Vector = [c * cases[i]! - s * cases[i + 1]!, s * cases[i]! + c * cases[i + 1]!, cases[i + 2]!];
        const motion = motionUnder(body, loadAt(body.origin, at, force));
        const m = movementAt(body.origin, motion, at);
        across = Math.max(across, Math.abs(-s * m[0] + c * m[1]));
        up = Math.max(up, Math.abs(m[2]));
        tabs.forEach((t, k) => {
          stress[k] = Math.max(stress[k]!, tabStress(sections, supportForce(t, body.origin, motion)).stress);
        });
        seen++;
      }
      const fast = worstMovement(body, at, feedAngle, cases);
      expect(Math.abs(fast.across / across - 1)).toBeLessThan(1e-9);
      expect(Math.abs(fast.up / up - 1)).toBeLessThan(1e-9);
      tabs.forEach((t, k) => {
        const f = worstTabStress(recovery(body, t), sections, { origin: body.origin, at, feedAngle }, cases);
        expect(Math.abs(f / stress[k]! - 1)).toBeLessThan(1e-7);
      });
      const give = pointCompliance(body, at, feedAngle);
      expect(Math.abs(give[1]! - give[3]!)).toBeLessThan(1e-9 * Math.sqrt(give[0]! * give[4]!));
    }
    expect(seen).toBeGreaterThan(50);
  });

  it('[D] doubling the cut by depth never moves the part less, nor loads a tab less', () => {
    const laws = forceLaws(material('CuZn39Pb3'));
    const cut = { diameter: 3, teeth: 2, ap: 1, span: climb(0.9), toothFeed: 0.02, helix: 0.52, runout: 0.02 };
    const at: Vector = [20, 5, -2];
    const one = worstMovement(body, at, 0.3, forceCases(cut, laws, 1.5));
    const two = worstMovement(body, at, 0.3, forceCases({ ...cut, ap: 2 }, laws, 1.5));
    expect(two.across).toBeGreaterThan(1.5 * one.across);
    expect(two.up).toBeGreaterThan(1.5 * one.up);
    expect(one.across).toBeGreaterThan(0);
    expect(one.across).toBeLessThan(0.05);
  });

  it('half a million tab stresses in under 3 seconds', () => {
    const sections = tabSections(shape);
    const cases = Float64Array.from({ length: 3000 }, (_, i) => Math.sin(i) * 50);
    const fast = recovery(body, tabs[0]!);
    // Time of this process: others on the machine do not count.
    const t0 = process.cpuUsage();
    let sum = 0;
    for (let i = 0; i < 500; i++)
      sum += worstTabStress(fast, sections, { origin: body.origin, at: [i / 20, 3, -2], feedAngle: i / 100 }, cases);
    expect(process.cpuUsage(t0).user / 1000).toBeLessThan(3000);
    expect(sum).toBeGreaterThan(0);
  });
});

describe('vibration', () => {
  it('[F form] Den Hartog: 1 at rest, 1/(2 zeta) at resonance, 1/(r^2 - 1) far above', () => {
    expect(magnification(0, 100)).toBe(1);
    expect(magnification(100, 100)).toBeCloseTo(1 / (2 * DAMPING), 9);
    expect(magnification(300, 100)).toBeCloseTo(1 / 8, 4);
  });

  it('[D] 3000 rev/min with two teeth passes 100 times a second; the third harmonic meets a mode at 300 Hz', () => {
    const f = toothPassing(3000, 2, 4);
    expect(f).toEqual([100, 200, 300, 400]);
    const worst = worstHarmonic(f, 300);
    expect(worst.harmonic).toBe(3);
    expect(worst.magnification).toBeCloseTo(50 / 3, 9);
  });
});
