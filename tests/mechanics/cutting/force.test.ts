/** [F] = answer read in the named book or page; [M] formula from memory, checked; [D] = derived check. I numbers are the closed-form identities. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { toRad } from '../../../src/base/units.ts';
import { climb, conventional, type MillingCut, SLOT } from '../../../src/mechanics/cutting/cut.ts';
import { engagementStraight } from '../../../src/mechanics/cutting/engagement.ts';
import { edgeForceOn, forceCases, worstForce } from '../../../src/mechanics/cutting/force.ts';
import {
  type EdgeForce,
  edgeForces,
  type ForceLaw,
  forceLaws,
  kienzle,
  wearFactor,
} from '../../../src/mechanics/cutting/force-law.ts';
import { cutFrame, toothSums } from '../../../src/mechanics/cutting/teeth.ts';
import { MATERIALS } from '../../../src/trade/materials/materials.ts';
import { runs, SEED } from '../../runs.ts';
import { integrate } from '../oracles/handbook.ts';

const law = (n: number) => ({ numRuns: runs(n), seed: SEED });
const measured: ForceLaw = { kind: 'measured', name: '7075', ktc: 796, krc: 169, kac: 222, kte: 28, kre: 31, kae: 1.5 };
const set = edgeForces([measured])[0]!;
const noEdge: EdgeForce = { power: 1, tc: 796, te: 0, rc: 169, re: 0, ac: 222, ae: 0 };
const four: MillingCut = { diameter: 10, teeth: 4, ap: 2, span: SLOT, toothFeed: 0.05, helix: 0, runout: 0 };

const summary = (cut: MillingCut, edge: EdgeForce) => worstForce(cut, [edge]);
/** Averaged over a turn. */
const meanForce = (cut: MillingCut, edge: EdgeForce) => summary(cut, edge).mean;
/** When tooth 0's tip stands at `theta`. */
const forceAt = (cut: MillingCut, edge: EdgeForce, theta: number) => {
  const frame = cutFrame(cut);
  return edgeForceOn(edge, toothSums(frame, edge.power, theta), frame.axialSign);
};

/** Closed form of 4.4, on the TOOL, in the axes feed and left. Altintas, Manufacturing Automation, ch. 2. */
function altintas(c: MillingCut, e: EdgeForce): [number, number, number] {
  const at = (p: number) => {
    const k = (c.teeth * c.ap * c.toothFeed) / (8 * Math.PI),
      q = (c.teeth * c.ap) / (2 * Math.PI);
    return [
      k * (e.tc * Math.cos(2 * p) - e.rc * (2 * p - Math.sin(2 * p))) + q * (-e.te * Math.sin(p) + e.re * Math.cos(p)),
      k * (e.tc * (2 * p - Math.sin(2 * p)) + e.rc * Math.cos(2 * p)) - q * (e.te * Math.cos(p) + e.re * Math.sin(p)),
      q * (-e.ac * c.toothFeed * Math.cos(p) + e.ae * p),
    ] as const;
  };
  const a = at(c.span.from),
    b = at(c.span.to);
  return [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
}

describe('mean forces', () => {
  it('I1 mean cutting power is Ktc ap ae vf for any width', () => {
    const d = 6,
      z = 2,
      fz = 0.03,
      ap = 2,
      n = 5305.16477;
    const expected = [
      [1.5, 31.83],
      [3, 63.66],
      [6, 127.32],
    ] as const;
    for (const [ae, watt] of expected) {
      const cut: MillingCut = {
        diameter: d,
        teeth: z,
        ap,
        span: climb(engagementStraight(d, ae)),
        toothFeed: fz,
        helix: toRad(30),
        runout: 0.02,
      };
      const mean = summary(cut, { power: 1, tc: 2000, te: 0, rc: 0, re: 0, ac: 0, ae: 0 }).meanTangential;
      const power = (mean * Math.PI * d * n) / 60_000;
      expect(power).toBeCloseTo(watt, 2);
      expect(Math.abs(power / ((2000 * ap * ae * z * fz * n) / 60_000) - 1)).toBeLessThan(1e-9);
    }
  });

  it('I2 slotting means -95.841, +150.901, +34.266 N on the tool (Altintas ch. 2)', () => {
    const m = meanForce(four, set);
    expect(-m[0]).toBeCloseTo(-95.841, 3);
    expect(-m[1]).toBeCloseTo(150.901, 3);
    expect(m[2]).toBeCloseTo(34.266, 3);
    expect(Math.abs(m[0] - ((4 * 2) / 4) * 169 * 0.05 - ((4 * 2) / Math.PI) * 31)).toBeLessThan(1e-6);
  });

  it('I3 general immersion', () => {
    const rows = [
      [conventional(Math.PI / 2), -108.909, 30.601, 17.133],
      [climb(Math.PI / 2), 13.068, 120.301, 17.133],
      [climb(Math.PI / 3), 26.838, 71.604, 9.066],
    ] as const;
    for (const [span, x, y, z] of rows) {
      const m = meanForce({ ...four, span }, set);
      expect([-m[0], -m[1], m[2]].map((v, i) => Math.abs(v - [x, y, z][i]!)).every((e) => e < 6e-4)).toBe(true);
    }
  });

  it('law: closed form and integral agree to 1e-6 for any span; and so does the turn average of the instantaneous force with helix', () => {
    let seen = 0;
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 3, noNaN: true }),
        fc.double({ min: 0.1, max: 3.1, noNaN: true }),
        fc.double({ min: 0, max: 50, noNaN: true }),
        (from, width, helix) => {
          seen++;
          const span = { from, to: Math.min(Math.PI, from + width) };
          const cut: MillingCut = { ...four, span, helix: toRad(helix) };
          const m = meanForce(cut, set),
            exact = altintas(cut, set);
          expect(Math.abs(m[0] + exact[0]) + Math.abs(m[1] + exact[1]) + Math.abs(m[2] - exact[2])).toBeLessThan(
            1e-6 * 100,
          );
        },
      ),
      law(300),
    );
    for (const helix of [15, 30, -45]) {
      const cut: MillingCut = { ...four, teeth: 2, span: climb(1.2), helix: toRad(helix) };
      const m = meanForce(cut, noEdge);
      for (let i = 0; i < 3; i++) {
        const turn = integrate((t) => forceAt(cut, noEdge, t)[i]!, 0, 2 * Math.PI, 400) / (2 * Math.PI);
        expect(Math.abs(turn / m[i]! - 1)).toBeLessThan(1e-4);
      }
    }
    expect(seen).toBeGreaterThan(10);
  });
});

describe('peaks', () => {
  it('[D] peak of the resultant against closed forms by hand, straight teeth (the I4 figures do not follow from their set)', () => {
    const tooth = (h: number) => 2 * Math.hypot(796 * h + 28, 169 * h + 31);
    expect(summary({ ...four, span: climb(Math.PI / 2) }, set).inPlane).toBeCloseTo(tooth(0.05), 4);
    expect(summary({ ...four, span: climb(Math.PI / 3) }, set).inPlane).toBeCloseTo(
      tooth(0.05 * Math.sin(Math.PI / 3)),
      4,
    );
    // Slot, four teeth: two are always in, a quarter turn apart; sum sin cos = 0 and sum sin^2 = 1 leave only edge terms varying.
    let slot = 0;
    for (let p = 0; p < Math.PI / 2; p += 1e-4) {
      const u = Math.cos(p) - Math.sin(p);
      const v = Math.cos(p) + Math.sin(p);
      slot = Math.max(slot, 2 * Math.hypot(169 * 0.05 + 28 * u + 31 * v, 796 * 0.05 + 28 * v - 31 * u));
    }
    expect(Math.abs(summary(four, set).inPlane / slot - 1)).toBeLessThan(1e-5);
  });

  it('[D] Kienzle D 6, z 2, slot, ap 2, fz 0.03, Fr 0.4 Ft: mean Ft, peak Ft, peak resultant', () => {
    const rows = [
      ['C45', 1500, 0.22, 133.2, 194.7, 209.7],
      ['C45 Koenig', 2220, 0.14, 144.9, 217.6, 234.4],
      ['6082', 800, 0.25, 79.8, 115.3, 124.2],
      ['brass', 700, 0.27, 75.4, 108.2, 116.6],
      ['304', 2150, 0.2, 176.8, 260.1, 280.2],
      ['O1', 2450, 0.23, 226.1, 329.3, 354.7],
    ] as const;
    for (const [name, kc11, mc, mean, peak, resultant] of rows) {
      const cut: MillingCut = { diameter: 6, teeth: 2, ap: 2, span: SLOT, toothFeed: 0.03, helix: 0, runout: 0 };
      const s = summary(cut, kienzle(kc11, mc, 0.4, 0));
      expect([name, s.meanTangential.toFixed(1), s.tangential.toFixed(1), s.inPlane.toFixed(1)]).toEqual([
        name,
        mean.toFixed(1),
        peak.toFixed(1),
        resultant.toFixed(1),
      ]);
    }
  });

  it('[D] runout raises one chip, up to the whole feed of a turn and no further', () => {
    const cut: MillingCut = { diameter: 6, teeth: 2, ap: 2, span: SLOT, toothFeed: 0.03, helix: 0, runout: 0.01 };
    const peak = (runout: number) => summary({ ...cut, runout }, kienzle(1500, 0.22, 0.4, 0)).tangential;
    expect(peak(0.01)).toBeCloseTo(1500 * 2 * 0.04 ** 0.78, 4);
    expect(peak(0.03)).toBeCloseTo(1500 * 2 * 0.06 ** 0.78, 6);
    expect(peak(0.2)).toBeCloseTo(peak(0.03), 9);
  });

  it('[D] a right-hand helix lifts the part, a left-hand one presses it, by the same amount', () => {
    const cut: MillingCut = { ...four, span: climb(1), helix: toRad(30) };
    const right = worstForce(cut, edgeForces([measured])),
      left = worstForce({ ...cut, helix: -cut.helix }, edgeForces([measured]));
    expect(right.up).toBeGreaterThan(5);
    expect(right.down + 0).toBe(0);
    expect(left.down).toBeCloseTo(right.up, 9);
    expect(left.up + 0).toBe(0);
    expect(left.inPlane).toBeCloseTo(right.inPlane, 6);
  });

  it('[D] directions: a straight conventional cut pushes the part forward, a climb cut draws it backward or sideways into the wall', () => {
    const up = meanForce({ ...four, span: conventional(0.6) }, noEdge),
      down = meanForce({ ...four, span: climb(0.6) }, noEdge);
    expect(up[0]).toBeGreaterThan(0);
    expect(down[0]).toBeLessThan(0);
    // metal lies on the right when climbing: the cutter pushes the part to the right, away from itself.
    expect(down[1]).toBeLessThan(0);
  });

  it('[D] worst over the published sets is not below any of them, and wear multiplies', () => {
    const laws: ForceLaw[] = [
      { kind: 'kienzle', name: 'VDI', kc11: 800, mc: 0.25 },
      { kind: 'measured', name: '6082', ktc: 631, kte: 13, krc: 99, kre: 10, kac: 273, kae: 2.8 },
      { kind: 'measured', name: '6061', ktc: 243.8, kte: 7.5, krc: 113.5, kre: 7.8, kac: null, kae: 0 },
    ];
    const all = edgeForces(laws);
    expect(all).toHaveLength(4 + 1 + 2);
    const worst = worstForce(four, all);
    for (const e of all) expect(worst.inPlane).toBeGreaterThanOrEqual(summary(four, e).inPlane);
    expect(worstForce(four, edgeForces(laws, wearFactor('HSS'))).inPlane).toBeCloseTo(1.6 * worst.inPlane, 9);
    expect(wearFactor('carbide')).toBeCloseTo(1.39, 2);
  });
});

describe('laws of the material table', () => {
  it('every material gives at least one law, and its worst force is that of no softer set', () => {
    expect(MATERIALS.length).toBeGreaterThan(5);
    for (const m of MATERIALS) {
      const all = forceLaws(m);
      expect(all).toHaveLength(m.kienzle.length + m.mechanistic.length);
      const worst = worstForce(four, edgeForces(all)).inPlane;
      for (const k of m.kienzle)
        expect(worst).toBeGreaterThanOrEqual(summary(four, kienzle(k.kc11, k.mc, 1, 0)).inPlane * 0.999999);
    }
  });
});

describe('force cases', () => {
  it('law: in every direction the few vectors reach at least as far as a dense pass (to 1 % of the largest force), and not 8 % further', () => {
    let seen = 0,
      most = 0;
    const laws: ForceLaw[] = [{ kind: 'kienzle', name: 'C45', kc11: 1500, mc: 0.22 }, measured];
    fc.assert(
      fc.property(
        fc.double({ min: 0.05, max: 1, noNaN: true }),
        fc.boolean(),
        fc.double({ min: -45, max: 45, noNaN: true }),
        fc.integer({ min: 1, max: 4 }),
        fc.double({ min: 0.2, max: 6, noNaN: true }),
        fc.double({ min: 0, max: 6.283, noNaN: true }),
        fc.double({ min: -1, max: 1, noNaN: true }),
        (share, side, helix, teeth, ap, turn, rise) => {
          seen++;
          const phi = engagementStraight(6, 6 * share);
          const cut: MillingCut = {
            diameter: 6,
            teeth,
            ap,
            span: side ? climb(phi) : conventional(phi),
            toothFeed: 0.03,
            helix: toRad(helix),
            runout: 0.01,
          };
          const dir = [
            Math.cos(turn) * Math.sqrt(1 - rise * rise),
            Math.sin(turn) * Math.sqrt(1 - rise * rise),
            rise,
          ] as const;
          const dot = (x: number, y: number, z: number) => x * dir[0] + y * dir[1] + z * dir[2];
          const few = forceCases(cut, laws, 1);
          let reach = 0;
          for (let i = 0; i < few.length; i += 3) reach = Math.max(reach, dot(few[i]!, few[i + 1]!, few[i + 2]!));
          let dense = 0,
            largest = 0;
          for (const e of edgeForces(laws))
            for (let t = 0; t < 6.2832; t += 0.005) {
              const f = forceAt(cut, e, t);
              dense = Math.max(dense, dot(f[0], f[1], f[2]));
              largest = Math.max(largest, Math.hypot(...f));
            }
          expect(reach).toBeGreaterThanOrEqual(dense - 1e-2 * largest);
          expect(reach).toBeLessThanOrEqual(1.08 * dense + 1e-2 * largest);
          most = Math.max(most, reach / largest);
        },
      ),
      law(200),
    );
    expect(seen).toBeGreaterThan(10);
    expect(most).toBeGreaterThan(0.9);
  });
});
