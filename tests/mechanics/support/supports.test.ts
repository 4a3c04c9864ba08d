/** [F] = answer read in the named book; [F inputs] = problem and method read there, forces worked out again; [D] = derived check. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Vector } from '../../../src/mechanics/cutting/cut.ts';
import { symmetricEigen } from '../../../src/mechanics/math/matrix.ts';
import { settle, type UnilateralContact } from '../../../src/mechanics/support/contact.ts';
import {
  edgeAxes,
  type HeldBody,
  loadAt,
  recovery,
  type Support,
  springs,
} from '../../../src/mechanics/support/supports.ts';
import { random, runs, SEED } from '../../runs.ts';
import {
  areaSprings,
  GLOBAL_AXES,
  holdBody,
  lineSprings,
  motionUnder,
  movementAt,
  resultant,
  supportForce,
} from '../oracles/rigid-body.ts';

const law = (n: number) => ({ numRuns: runs(n), seed: SEED });
const O: Vector = [0, 0, 0];

function held(supports: readonly Support[], origin?: Vector): HeldBody {
  const body = holdBody(supports, origin);
  if (body.kind !== 'held') throw new Error('loose');
  return body;
}
const bolt = (x: number, y: number, k = 1e4) => springs([x, y, 0], GLOBAL_AXES, k, k, k);

/** In-plane force of each support for a load at a place. */
function shares(body: HeldBody, at: Vector, force: Vector): number[][] {
  const motion = motionUnder(body, loadAt(body.origin, at, force));
  return body.supports.map((s) => [...supportForce(s, body.origin, motion)]);
}

describe('published groups of fasteners and welds', () => {
  it('T1 [F] Shigley 9th ed. Example 8-7: 16 kN at 425 mm -> near pair 21.0 kN, far pair 14.8 kN', () => {
    const body = held([bolt(75, 60), bolt(75, -60), bolt(-75, 60), bolt(-75, -60)]);
    const f = shares(body, [425, 0, 0], [0, -16_000, 0]).map((v) => Math.hypot(v[0]!, v[1]!) / 1000);
    expect(f[0]).toBeCloseTo(20.973, 3);
    expect(f[1]).toBeCloseTo(20.973, 3);
    expect(f[2]).toBeCloseTo(14.789, 3);
    expect(f.map((v) => v.toFixed(1))).toEqual(['21.0', '21.0', '14.8', '14.8']);
  });

  it('T2 [F inputs] Bhandari Example 7.3: 10 kN at 500 mm -> 12 093.39 and 8139.41 N', () => {
    const body = held([bolt(100, 75), bolt(100, -75), bolt(-100, 75), bolt(-100, -75)]);
    const f = shares(body, [500, 0, 0], [0, -10_000, 0]).map((v) => Math.hypot(v[0]!, v[1]!));
    expect(f[0]).toBeCloseTo(12_093.39, 2);
    expect(f[2]).toBeCloseTo(8139.41, 2);
  });

  it('T3 [F inputs] Bhandari Example 7.4: three in a line, 5 kN at 305 mm -> -8500, 1666.67, 11 833.33 N', () => {
    const body = held([bolt(-75, 0), bolt(0, 0), bolt(75, 0), turning(1e6)], O);
    const f = shares(body, [305, 0, 0], [0, -5000, 0])
      .slice(0, 3)
      .map((v) => -v[1]!);
    expect(f[0]).toBeCloseTo(-8500, 2);
    expect(f[1]).toBeCloseTo(1666.67, 2);
    expect(f[2]).toBeCloseTo(11_833.33, 2);
  });

  it('T4 [F inputs] Bhandari Example 7.5: tipping about an edge, 25 kN at 100 mm -> shear 6250, tension 8108.11 N', () => {
    const edge: UnilateralContact[] = [-50, 50].map((x) => ({ at: [x, 0, 0], push: [0, 0, 1], stiffness: 1e10 }));
    const bolts = [bolt(-40, 150), bolt(40, 150), bolt(-40, 25), bolt(40, 25)];
    const load = loadAt(O, [0, 0, 100], [0, -25_000, 0]);
    const r = settle(bolts, edge, O, load);
    if (r.kind !== 'settled') throw new Error(r.kind);
    const f = bolts.map((b) => supportForce(b, O, r.motion));
    for (const v of f) expect(Math.abs(v[1]!)).toBeCloseTo(6250, 1);
    expect(Math.abs(f[0]![2]!)).toBeCloseTo(8108.11, 0);
    expect(Math.abs(f[2]![2]!)).toBeCloseTo(8108.11 / 6, 0);
  });

  const weld = (perSide: number) => {
    const pts: Vector[] = [
      [50, 0, 0],
      [0, 0, 0],
      [0, 100, 0],
      [50, 100, 0],
    ];
    return lineSprings(pts, { out: 1, along: 1, up: 1 }, 50 / perSide);
  };

  it('T5 [F inputs] Bhandari Example 8.10: C-shaped weld -> centroid 12.5, J 385 417, resultant 2018.6 N/mm; converges as listed', () => {
    const rows = [
      [10, 1970.8],
      [50, 2008.7],
      [200, 2016.1],
    ] as const;
    for (const [perSide, expected] of rows) {
      const body = held(weld(perSide));
      expect(body.origin[0]).toBeCloseTo(12.5, 9);
      const f = shares(body, [200, 50, 0], [0, -60_000, 0]);
      const most = Math.max(...f.map((v) => Math.hypot(v[0]!, v[1]!))) / (50 / perSide);
      expect(most).toBeCloseTo(expected, 1);
      if (perSide === 200) expect(Math.abs(body.stiffness[35]! / 385_417 - 1)).toBeLessThan(1e-4);
    }
  });

  const ring = (r: number, n: number) =>
    lineSprings(
      Array.from(
        { length: n + 1 },
        (_, i): Vector => [r * Math.cos((2 * Math.PI * i) / n), r * Math.sin((2 * Math.PI * i) / n), 0],
      ),
      { out: 1, along: 1, up: 1 },
      1000,
    );

  it('T6 [F] Shigley P9-8: two rings of radius 40, leg 5, torque 200 F, 140 MPa -> F 49.2 kN printed (49.75 unrounded)', () => {
    const body = held(ring(40, 720));
    const f = shares(body, O, [0, 0, 0]);
    expect(f.length).toBe(720);
    const motion = motionUnder(body, [0, 0, 0, 0, 0, 1]);
    const perMm = Math.max(
      ...body.supports.map(
        (s) => Math.hypot(...supportForce(s, body.origin, motion).slice(0, 2)) / ((2 * Math.PI * 40) / 720),
      ),
    );
    const force = (2 * 140 * Math.SQRT1_2 * 5) / perMm / 200 / 1000;
    expect(force).toBeCloseTo(49.75, 1);
    expect(Math.abs(force / 49.2 - 1)).toBeLessThan(0.015);
    expect(Math.abs(body.stiffness[35]! / 1000 / 402.1 - 1)).toBeLessThan(1e-3);
  });

  it('T7 [F] Shigley P9-9: unit-line J of one line, two lines, a box, a ring', () => {
    const a = 30,
      fine = a / 400;
    const stiff = { out: 1, along: 1, up: 1 };
    const j = (s: readonly Support[]) => holdBodyStiffness(s)[35]!;
    const one = lineSprings(
      [
        [0, 0, 0],
        [0, a, 0],
      ],
      stiff,
      fine,
    );
    const two = [
      ...one,
      ...lineSprings(
        [
          [a, 0, 0],
          [a, a, 0],
        ],
        stiff,
        fine,
      ),
    ];
    const box = lineSprings(
      [
        [0, 0, 0],
        [a, 0, 0],
        [a, a, 0],
        [0, a, 0],
        [0, 0, 0],
      ],
      stiff,
      fine,
    );
    const rows = [
      [j(one), a ** 3 / 12],
      [j(two), (a * (3 * a * a + a * a)) / 6],
      [j(box), (8 * a ** 3) / 6],
      [j(ring(a / 2, 2000)), 2 * Math.PI * (a / 2) ** 3],
    ] as const;
    for (const [got, wanted] of rows) expect(Math.abs(got / wanted - 1)).toBeLessThan(1e-4);
  });
});

function holdBodyStiffness(s: readonly Support[]): Float64Array {
  const body = holdBody(s);
  return body.kind === 'held' ? body.stiffness : held([...s, turning(1)], body.origin).stiffness;
}
/** Resists turns about X only, so that springs in one line stand upright without touching what is measured. */
function turning(k: number): Support {
  const stiffness = new Float64Array(36);
  stiffness[21] = k;
  stiffness[28] = k;
  return { at: O, axes: GLOBAL_AXES, stiffness };
}

describe('loose bodies', () => {
  it('[D] one point leaves three turns, two points one turn about their line, none everything', () => {
    const free = (s: readonly Support[]) => {
      const b = holdBody(s);
      return b.kind === 'loose' ? b.free : [];
    };
    expect(free([])).toHaveLength(6);
    expect(free([bolt(5, 3)])).toHaveLength(3);
    const line = free([bolt(-10, 0), bolt(10, 0)]);
    expect(line).toHaveLength(1);
    const v = line[0]!;
    expect(Math.abs(v[3]!) / Math.hypot(...v)).toBeCloseTo(1, 9);
    expect(free([bolt(-10, 0), bolt(10, 0), bolt(0, 7)])).toHaveLength(0);
  });
});

describe('push-only contacts', () => {
  const plate: UnilateralContact[] = [
    [-10, -10],
    [10, -10],
    [10, 10],
    [-10, 10],
  ].map(([x, y]) => ({ at: [x!, y!, 0], push: [0, 0, 1], stiffness: 1e4 }));
  const soft = [
    [-10, -10],
    [10, -10],
    [10, 10],
    [-10, 10],
  ].map(([x, y]) => springs([x!, y!, 0], GLOBAL_AXES, 100, 100, 1));

  it('[D] pressed: all four share; lifted: all open; off the middle: the far ones open', () => {
    const press = settle(soft, plate, O, [0, 0, -400, 0, 0, 0]);
    if (press.kind !== 'settled') throw new Error(press.kind);
    for (const p of press.pushes) expect(p).toBeCloseTo(100, 1);
    const lift = settle(soft, plate, O, [0, 0, 4, 0, 0, 0]);
    if (lift.kind !== 'settled') throw new Error(lift.kind);
    expect(lift.pushes).toEqual([0, 0, 0, 0]);
    expect(lift.motion[2]).toBeCloseTo(1, 9);
    const tip = settle(soft, plate, O, loadAt(O, [14, 0, 0], [0, 0, -100]));
    if (tip.kind !== 'settled') throw new Error(tip.kind);
    expect(tip.pushes.map((p) => p > 0)).toEqual([false, true, true, false]);
  });

  it('[D] without supports: resting under a press at the middle is loose sideways only; lifted is loose altogether', () => {
    const press = settle([], plate, O, [0, 0, -400, 0, 0, 0]);
    expect(press.kind === 'loose' && press.free.length).toBe(3);
    const lift = settle([], plate, O, [0, 0, 4, 0, 0, 0]);
    expect(lift.kind === 'loose' && lift.free.length).toBe(6);
  });

  it('[D] preload keeps a contact stiff both ways until it is used up, then it is gone', () => {
    const tight = plate.map((c) => ({ ...c, preload: 50 }));
    const below = settle(soft, tight, O, [0, 0, 199, 0, 0, 0]);
    const above = settle(soft, tight, O, [0, 0, 208, 0, 0, 0]);
    if (below.kind !== 'settled' || above.kind !== 'settled') throw new Error('not settled');
    expect(below.motion[2]).toBeCloseTo(199 / 40_004, 9);
    expect(above.motion[2]).toBeCloseTo(8 / 4, 6);
  });

  it('law: equilibrium holds, no contact pulls, and no open contact is pressed', () => {
    const rand = random(SEED);
    let openSeen = 0,
      closedSeen = 0;
    for (let n = 0; n < runs(600); n++) {
      const s = Array.from({ length: 3 }, () =>
        springs(
          [rand() * 40 - 20, rand() * 40 - 20, rand() * 4],
          edgeAxes(rand() * 7),
          1000 * rand() + 1,
          1000 * rand() + 1,
          300 * rand() + 1,
        ),
      );
      const cs = Array.from(
        { length: 9 },
        (): UnilateralContact => ({
          at: [rand() * 40 - 20, rand() * 40 - 20, -2],
          push: [0, 0, 1],
          stiffness: 1e4 * rand() + 1,
          preload: rand() < 0.3 ? 20 * rand() : 0,
        }),
      );
      const load = Float64Array.from({ length: 6 }, (_, i) => (rand() - 0.5) * (i > 2 ? 1000 : 100));
      const r = settle(s, cs, O, load);
      if (r.kind !== 'settled') throw new Error(r.kind);
      const sum = resultant(s, O, r.motion);
      cs.forEach((c, i) => {
        const row = loadAt(O, c.at, c.push);
        const gap = row.reduce((a, v, j) => a + v * r.motion[j]!, 0);
        const push = r.pushes[i]!;
        for (let j = 0; j < 6; j++) sum[j]! -= (push - (c.preload ?? 0)) * row[j]!;
        expect(push).toBeGreaterThanOrEqual(-1e-9);
        if (push === 0) {
          openSeen++;
          expect((c.preload ?? 0) - c.stiffness * gap).toBeLessThanOrEqual(1e-6);
        } else closedSeen++;
      });
      for (let j = 0; j < 6; j++) expect(Math.abs(sum[j]! - load[j]!)).toBeLessThan(1e-9 * Math.hypot(...load));
    }
    expect(Math.min(openSeen, closedSeen)).toBeGreaterThan(20);
  });
});

describe('laws of a held body', () => {
  const rand = random(SEED + 1);
  const any = (): Support[] =>
    Array.from({ length: 3 + Math.floor(rand() * 4) }, () => {
      const s = springs(
        [rand() * 60 - 30, rand() * 60 - 30, rand() * 6],
        edgeAxes(rand() * 7),
        10 ** (2 + 3 * rand()),
        10 ** (2 + 3 * rand()),
        10 ** (2 + 3 * rand()),
      );
      for (let i = 3; i < 6; i++) s.stiffness[7 * i] = 1e4 * rand();
      return s;
    });
  const place = (): Vector => [rand() * 60 - 30, rand() * 60 - 30, rand() * 6];
  const force = (): Vector => [rand() - 0.5, rand() - 0.5, rand() - 0.5].map((v) => 200 * v) as unknown as Vector;
  const work = (body: HeldBody, at: Vector, f: Vector) => {
    const m = movementAt(body.origin, motionUnder(body, loadAt(body.origin, at, f)), at);
    return m[0] * f[0] + m[1] * f[1] + m[2] * f[2];
  };

  it('equilibrium to 1e-9 of the load; doubling; Rayleigh (stiffening never raises the work); Maxwell-Betti', () => {
    let n = 0;
    for (; n < runs(2000); n++) {
      const s = any(),
        at = place(),
        f = force(),
        body = held(s);
      const load = loadAt(body.origin, at, f);
      const motion = motionUnder(body, load);
      const back = resultant(s, body.origin, motion);
      const size = Math.hypot(...load);
      for (let i = 0; i < 6; i++) expect(Math.abs(back[i]! - load[i]!)).toBeLessThan(1e-9 * size);
      const twice = motionUnder(
        body,
        load.map((v) => 2 * v),
      );
      for (let i = 0; i < 6; i++)
        expect(Math.abs(twice[i]! - 2 * motion[i]!)).toBeLessThan(1e-12 * Math.hypot(...motion));
      const k = Math.floor(rand() * s.length);
      const axis = 7 * Math.floor(rand() * 6);
      const stiffer = s.map((x, i) =>
        i === k ? { ...x, stiffness: x.stiffness.map((v, j) => (j === axis ? v * (1 + 3 * rand()) : v)) } : x,
      );
      expect(work(held(stiffer), at, f)).toBeLessThanOrEqual(work(body, at, f) * (1 + 1e-9));
      const at2 = place(),
        f2 = force();
      const m1 = movementAt(body.origin, motion, at2);
      const m2 = movementAt(body.origin, motionUnder(body, loadAt(body.origin, at2, f2)), at);
      const w12 = m1[0] * f2[0] + m1[1] * f2[1] + m1[2] * f2[2];
      const w21 = m2[0] * f[0] + m2[1] * f[1] + m2[2] * f[2];
      expect(Math.abs(w12 - w21)).toBeLessThan(1e-9 * Math.sqrt(work(body, at, f) * work(body, at2, f2)));
      const local = supportForce(s[0]!, body.origin, motion);
      const fast = recovery(body, s[0]!);
      for (let i = 0; i < 6; i++) {
        const v = load.reduce((a, x, j) => a + fast[6 * i + j]! * x, 0);
        expect(Math.abs(v - local[i]!)).toBeLessThan(1e-8 * size);
      }
    }
    expect(n).toBeGreaterThan(10);
  });

  it('the whole scene turned and shifted, or mirrored, gives the same movement turned or mirrored', () => {
    for (let n = 0; n < runs(1000); n++) {
      const s = any(),
        at = place(),
        f = force(),
        turn = rand() * 7,
        shift = place();
      const c = Math.cos(turn),
        si = Math.sin(turn);
      const rot = (v: Vector): Vector => [c * v[0] - si * v[1], si * v[0] + c * v[1], v[2]];
      const mir = (v: Vector): Vector => [-v[0], v[1], v[2]];
      const add = (v: Vector): Vector => [v[0] + shift[0], v[1] + shift[1], v[2] + shift[2]];
      const m = movementAt(held(s).origin, motionUnder(held(s), loadAt(held(s).origin, at, f)), at);
      const turned = held(
        s.map((x) => ({ ...x, at: add(rot(x.at)), axes: x.axes.map(rot) as unknown as Support['axes'] })),
      );
      const mt = movementAt(
        turned.origin,
        motionUnder(turned, loadAt(turned.origin, add(rot(at)), rot(f))),
        add(rot(at)),
      );
      const want = rot(m);
      const size = Math.hypot(...m);
      for (let i = 0; i < 3; i++) expect(Math.abs(mt[i]! - want[i]!)).toBeLessThan(1e-9 * size);
      // Springs without coupling: mirrored axes stay mirrored, turns about out keep their sign (stiffness is even).
      const mirrored = held(
        s.map((x) => ({ ...x, at: mir(x.at), axes: [mir(x.axes[0]), mir(x.axes[1]), x.axes[2]] as Support['axes'] })),
      );
      const mm = movementAt(mirrored.origin, motionUnder(mirrored, loadAt(mirrored.origin, mir(at), mir(f))), mir(at));
      const wm = mir(m);
      for (let i = 0; i < 3; i++) expect(Math.abs(mm[i]! - wm[i]!)).toBeLessThan(1e-9 * size);
    }
  });

  it('area springs: a square glued all over turns about X with k a^4/12', () => {
    const n = 60,
      a = 20;
    const cells = Array.from({ length: n * n }, (_, i) => ({
      at: [((i % n) + 0.5) * (a / n), (Math.floor(i / n) + 0.5) * (a / n), 0] as Vector,
      area: (a / n) ** 2,
    }));
    const body = held(areaSprings(cells, { out: 1, along: 1, up: 1 }));
    expect(Math.abs(body.stiffness[21]! / (a ** 4 / 12) - 1)).toBeLessThan(1e-3);
    expect(body.stiffness[14]).toBeCloseTo(a * a, 6);
  });

  it('a million load cases in under 3 seconds', () => {
    const body = held([bolt(10, 3), bolt(-8, 2), bolt(1, 9), bolt(0, -7)]);
    const out = new Float64Array(6),
      load = new Float64Array([1, 2, 3, 4, 5, 6]);
    // Time of this process: others on the machine do not count.
    const t0 = process.cpuUsage();
    let sum = 0;
    for (let i = 0; i < 1_000_000; i++) {
      load[0] = i & 255;
      sum += motionUnder(body, load, out)[2]!;
    }
    expect(process.cpuUsage(t0).user / 1000).toBeLessThan(3000);
    expect(Number.isFinite(sum)).toBe(true);
  });
});

describe('eigenvalues', () => {
  it('[D] Jacobi: trace, orthogonality and A v = lambda v for random symmetric matrices', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: -9, max: 9, noNaN: true }), { minLength: 25, maxLength: 25 }), (raw) => {
        const n = 5,
          a = new Float64Array(25);
        for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) a[i * n + j] = raw[i * n + j]! + raw[j * n + i]!;
        const { values, vectors } = symmetricEigen(a, n);
        const size = Math.max(1, ...a.map(Math.abs));
        vectors.forEach((v, k) => {
          for (let i = 0; i < n; i++) {
            const av = v.reduce((s, x, j) => s + a[i * n + j]! * x, 0);
            expect(Math.abs(av - values[k]! * v[i]!)).toBeLessThan(1e-11 * size);
          }
        });
      }),
      law(300),
    );
  });
});
