/** What mechanics promises of a whole holding: the laws of linear supports, seen through job, plate, tabs and part. */
import { describe, expect, it } from 'vitest';
import { evaluate } from '../../src/hold/evaluate/evaluate.ts';
import { bodySupport, restingLoad } from '../../src/hold/evaluate/resting.ts';
import { candidates } from '../../src/hold/scene/candidates.ts';
import type { EdgePlace } from '../../src/hold/scene/edge.ts';
import type { StockNet } from '../../src/hold/scene/net.ts';
import type { HoldScene } from '../../src/hold/scene/scene.ts';
import { type HoldWay, NO_WAY } from '../../src/hold/way.ts';
import {
  type EdgePush,
  edgeCompliance,
  edgeLoad,
  type ForceSet,
  forceSet,
  type HeldState,
  movementUnder,
  Workspace,
} from '../../src/mechanics/held/held-state.ts';
import { quickTabNormal, quickTabStress, sectionTable } from '../../src/mechanics/held/quick-stress.ts';
import { peakTabStress, tabSections, tabStress } from '../../src/mechanics/held/tab-stress.ts';
import { limitMargin, weakestUnder } from '../../src/mechanics/held/weakest.ts';
import { settle, type UnilateralContact } from '../../src/mechanics/support/contact.ts';
import { loadAt } from '../../src/mechanics/support/supports.ts';
import { random, runs, SEED } from '../runs.ts';
import { lever, ready } from './scenes.ts';

function tabsWay(places: readonly EdgePlace[], height = 1): HoldWay {
  return { ...NO_WAY, by: 'tabs', tabs: { width: 2, cutHeight: height, height, places } };
}

function heldBy(scene: HoldScene, net: StockNet, way: HoldWay): HeldState {
  const reckoned = evaluate(scene, net, way, (k) => k === 'finishing');
  if (reckoned.kind !== 'evaluated') throw new Error('loose');
  const { parts, moments } = reckoned.evaluation;
  return parts[0]!.states[moments[0]!.state]!.held;
}

function pick(all: readonly EdgePlace[], shares: readonly number[]): EdgePlace[] {
  return shares.map((s) => all[Math.floor(s * all.length)]!);
}

const BASE = ready(lever(), 30);
const PLACES = candidates(BASE.scene, 2).places;
const THREE = pick(PLACES, [0.1, 0.45, 0.8]);
const WORK = new Workspace();
const giveThere = (held: HeldState, s: EdgePush['spot'], z: number) => edgeCompliance(WORK, held, s, z);
const SPOTS = BASE.scene.parts[0]!.spots;

describe('laws', () => {
  it('another tab never lets any place of the edge give more under its own force (Rayleigh)', () => {
    const r = random(SEED);
    let looked = 0;
    for (let k = 0; k < runs(60); k++) {
      const three = pick(PLACES, [r(), r(), r()]);
      if (new Set(three).size < 3) continue;
      const more = [...three, PLACES[Math.floor(r() * PLACES.length)]!];
      if (new Set(more).size < 4) continue;
      const a = heldBy(BASE.scene, BASE.net, tabsWay(three));
      const b = heldBy(BASE.scene, BASE.net, tabsWay(more));
      for (const s of SPOTS) {
        const before = Array.from(giveThere(a, s, -2));
        for (const other of [b]) {
          const after = giveThere(other, s, -2);
          expect(after[0]!).toBeLessThanOrEqual(before[0]! * (1 + 1e-9));
          expect(after[5]!).toBeLessThanOrEqual(before[5]! * (1 + 1e-9));
          looked++;
        }
      }
    }
    expect(looked).toBeGreaterThan(60);
  });

  it('a lower modulus never moves less at the same force, and moves in proportion', () => {
    const soft = { ...BASE.scene, metal: { ...BASE.scene.metal, modulus: BASE.scene.metal.modulus / 2 } };
    const net = {
      ...BASE.net,
      compliance: { ...BASE.net.compliance, blocks: BASE.net.compliance.blocks.map((v) => 2 * v) },
    };
    const a = heldBy(BASE.scene, BASE.net, tabsWay(THREE));
    const b = heldBy(soft, net, tabsWay(THREE));
    for (const s of SPOTS) {
      const stiff = Array.from(giveThere(a, s, -2));
      giveThere(b, s, -2).forEach((v, i) => expect(v).toBeCloseTo(2 * stiff[i]!, 10));
    }
  });

  it('twice the force moves twice as far and leaves half the margin', () => {
    const a = heldBy(BASE.scene, BASE.net, tabsWay(THREE));
    const triples = Float64Array.of(20, -5, 8, -12, 9, 3);
    const forces = forceSet(triples);
    const twice = forceSet(triples.map((v) => 2 * v));
    const none = { normal: 0, up: 0 };
    for (const s of SPOTS) {
      const one = movementUnder(WORK, a, { spot: s, z: -2, forces: forces }, none, true);
      const two = movementUnder(WORK, a, { spot: s, z: -2, forces: twice }, none, true);
      expect(two.normal).toBeCloseTo(2 * one.normal, 12);
      expect(two.up).toBeCloseTo(2 * one.up, 12);
      const m = weakestUnder(WORK, a, { spot: s, z: -2, forces: forces }, 2).margin;
      expect(weakestUnder(WORK, a, { spot: s, z: -2, forces: twice }, 2).margin).toBeCloseTo(m / 2, 8);
    }
  });

  it('place i moves under a force at j as j under the same at i (Maxwell-Betti)', () => {
    const a = heldBy(BASE.scene, BASE.net, tabsWay(THREE));
    const body = bodySupport(a)!;
    const move = (at: readonly [number, number, number], by: readonly [number, number, number]) => {
      const load = loadAt(a.origin, by, [0, 0, 1]);
      const m = settle([body], [], a.origin, load);
      if (m.kind !== 'settled') throw new Error('loose');
      return loadAt(a.origin, at, [0, 0, 1]).reduce((sum, v, i) => sum + v * m.motion[i]!, 0);
    };
    const [p, q] = [SPOTS[3]!, SPOTS[20]!];
    const pq = move([p.x, p.y, -2], [q.x, q.y, -2]);
    expect(pq).toBeCloseTo(move([q.x, q.y, -2], [p.x, p.y, -2]), 12);
    expect(Math.abs(pq)).toBeGreaterThan(0);
  });

  it('job, stock and clamps turned a quarter together: the same gives at the same places', () => {
    const turned = ready(
      lever({
        stock: { size: [30, 75, 4], measured: 4, flatness: 0.02 },
        place: [{ at: [15, 22], turn: 90 }],
        clamps: [
          { from: [0, 0], to: [30, 8], height: 12 },
          { from: [0, 67], to: [30, 75], height: 12 },
        ],
      }),
      30,
    );
    const a = heldBy(BASE.scene, BASE.net, tabsWay(THREE));
    const b = heldBy(turned.scene, turned.net, tabsWay(THREE));
    const spots = turned.scene.parts[0]!.spots;
    SPOTS.forEach((s, i) => {
      const before = Array.from(giveThere(a, s, -2));
      giveThere(b, spots[i]!, -2).forEach((v, k) => expect(v / before[k]!).toBeCloseTo(1, 5));
    });
  });

  it('mirrored part, tabs and plate: the same gives at the mirrored places', () => {
    const mirrored = ready(lever({ place: [{ at: [53, 15], mirror: true }] }), 30);
    const a = heldBy(BASE.scene, BASE.net, tabsWay(THREE));
    const b = heldBy(mirrored.scene, mirrored.net, tabsWay(THREE));
    let met = 0;
    for (const s of SPOTS) {
      const twin = mirrored.scene.parts[0]!.spots.find((q) => Math.hypot(q.x - (75 - s.x), q.y - s.y) < 1e-6);
      if (!twin) continue;
      met++;
      const before = Array.from(giveThere(a, s, -2));
      const after = giveThere(b, twin, -2);
      expect(after[0]! / before[0]!).toBeCloseTo(1, 5);
      expect(after[5]! / before[5]!).toBeCloseTo(1, 5);
    }
    expect(met).toBe(SPOTS.length);
  });

  it('law: mirrored with the cutter (hand and travel) and the sequence of thinning, margins and movements stay; with the same hand they do not', () => {
    const mirrored = ready(lever({ place: [{ at: [53, 15], mirror: true }] }), 30);
    const twin = (s: { x: number; y: number }) =>
      mirrored.scene.parts[0]!.spots.find((q) => Math.hypot(q.x - (75 - s.x), q.y - s.y) < 1e-6)!;
    const none = { normal: 0, up: 0 };
    const r = random(SEED + 3);
    let compared = 0;
    let apart = 0;
    for (let k = 0; k < runs(30); k++) {
      const three = pick(PLACES, [r(), r(), r()]);
      if (new Set(three).size < 3) continue;
      const thinned: HoldWay = {
        ...NO_WAY,
        by: 'tabs',
        tabs: { width: 2, cutHeight: 1.2, height: 0.6, places: three },
      };
      const here = evaluate(BASE.scene, BASE.net, thinned);
      const there = evaluate(mirrored.scene, mirrored.net, thinned);
      if (here.kind !== 'evaluated' || there.kind !== 'evaluated') throw new Error('loose');
      // Tabs are numbered round the part, so the same one is thinned first in both: the sequence is mirrored with them.
      here.evaluation.moments.forEach((moment) => {
        const a = here.evaluation.parts[0]!.states[moment.state]!.held;
        const b = there.evaluation.parts[0]!.states[moment.state]!.held;
        const hand = otherHand(moment.forces);
        for (const s of [SPOTS[Math.floor(r() * SPOTS.length)]!]) {
          const one = movementUnder(WORK, a, { spot: s, z: moment.z, forces: moment.forces }, none, true);
          const two = movementUnder(WORK, b, { spot: twin(s), z: moment.z, forces: hand }, none, true);
          expect(two.normal / one.normal, moment.kind).toBeCloseTo(1, 5);
          expect(two.up / one.up).toBeCloseTo(1, 5);
          const margin = weakestUnder(
            WORK,
            a,
            { spot: s, z: moment.z, forces: moment.forces },
            moment.wanted.margin,
          ).margin;
          expect(
            weakestUnder(WORK, b, { spot: twin(s), z: moment.z, forces: hand }, moment.wanted.margin).margin / margin,
          ).toBeCloseTo(1, 5);
          const same = movementUnder(WORK, b, { spot: twin(s), z: moment.z, forces: moment.forces }, none, true);
          if (Math.abs(same.normal / one.normal - 1) > 0.01) apart++;
          compared++;
        }
      });
    }
    expect(compared).toBeGreaterThan(20);
    // The law would be empty if the hand made no difference.
    expect(apart).toBeGreaterThan(compared / 10);
  });
});

/** Forces of a cutter of the other hand that turns and travels the other way: what runs along the edge is turned about. */
function otherHand({ triples }: ForceSet): ForceSet {
  return forceSet(triples.map((v, i) => (i % 3 === 1 ? -v : v)));
}

describe('statics', () => {
  it('with the part resting on its backing, supports and pushes together equal the load to 1e-9 of it', () => {
    const a = heldBy(BASE.scene, BASE.net, tabsWay(THREE));
    const body = bodySupport(a)!;
    const contacts = SPOTS.filter((_, i) => i % 4 === 0).map(
      (s): UnilateralContact => ({ at: [s.x, s.y, -4], push: [0, 0, 1], stiffness: 1e5 }),
    );
    const r = random(SEED);
    const load = new Float64Array(6);
    let lifted = 0;
    for (let k = 0; k < runs(500); k++) {
      const s = SPOTS[Math.floor(r() * SPOTS.length)]!;
      const [out, along, up] = [60 * (r() - 0.5), 60 * (r() - 0.5), 60 * (r() - 0.5)];
      edgeLoad(a.origin, { spot: s, z: -2, out, along, up }, load);
      const carried = restingLoad(body, contacts, a.origin, load)!;
      const settled = settle([body], contacts, a.origin, load);
      if (settled.kind !== 'settled') throw new Error('unsettled');
      const sum = Float64Array.from(carried);
      settled.pushes.forEach((p, i) => {
        // The supports carry the load and what the contacts push.
        loadAt(a.origin, contacts[i]!.at, [0, 0, p]).forEach((v, j) => {
          sum[j]! -= v;
        });
        if (p === 0) lifted++;
      });
      const size = Math.hypot(...load);
      sum.forEach((v, j) => expect(Math.abs(v - load[j]!) / size).toBeLessThan(1e-9));
    }
    expect(lifted).toBeGreaterThan(0);
  });

  it('the tabs together carry the load to 1e-9 of it', () => {
    const a = heldBy(BASE.scene, BASE.net, tabsWay(THREE));
    const load = new Float64Array(6);
    for (const s of SPOTS) {
      edgeLoad(a.origin, { spot: s, z: -2, out: 20, along: 7, up: 5 }, load);
      const sum = [0, 0, 0];
      a.limits.forEach((limit, n) => {
        const out = THREE[n]!.normal;
        const f = Array.from({ length: 3 }, (_, i) => load.reduce((t, v, j) => t + limit.recover[6 * i + j]! * v, 0));
        sum[0]! += f[0]! * out.x - f[1]! * out.y;
        sum[1]! += f[0]! * out.y + f[1]! * out.x;
        sum[2]! += f[2]!;
      });
      sum.forEach((v, i) => expect(Math.abs(v - load[i]!) / Math.hypot(...load)).toBeLessThan(1e-9));
    }
  });
});

describe('short cuts of the reckoning', () => {
  it('law: passing over what is surely strong enough changes no answer', () => {
    const a = heldBy(BASE.scene, BASE.net, tabsWay(THREE));
    const r = random(SEED + 1);
    const load = new Float64Array(6);
    for (let k = 0; k < runs(200); k++) {
      const s = SPOTS[Math.floor(r() * SPOTS.length)]!;
      const triples = Float64Array.from({ length: 15 }, () => 80 * (r() - 0.5));
      const forces = forceSet(triples);
      let least = Number.POSITIVE_INFINITY;
      for (let i = 0; i < triples.length; i += 3) {
        const push = { spot: s, z: -1, out: triples[i]!, along: triples[i + 1]!, up: triples[i + 2]! };
        edgeLoad(a.origin, push, load);
        for (const limit of a.limits) least = Math.min(least, limitMargin(WORK, limit, load, push));
      }
      expect(weakestUnder(WORK, a, { spot: s, z: -1, forces: forces }, 2).margin).toBeCloseTo(least, 8);
      expect(weakestUnder(WORK, a, { spot: s, z: -1, forces: forces }, 2, (least / 2) * 0.99).index).toBe(-1);
      expect(weakestUnder(WORK, a, { spot: s, z: -1, forces: forces }, 2, (least / 2) * 1.01).margin).toBeCloseTo(
        least,
        8,
      );
    }
  });

  it('law: the flat form of the tab stress gives the same figures', () => {
    const sections = tabSections({ waist: 2, height: 0.8, cutterRadius: 1.5, slotWidth: 3.4 });
    const { flat } = sectionTable(sections);
    const r = random(SEED + 2);
    for (let k = 0; k < runs(500); k++) {
      const f = Float64Array.from({ length: 6 }, () => 100 * (r() - 0.5));
      expect(quickTabStress(flat, f)).toBeCloseTo(peakTabStress(sections, f), 8);
      expect(quickTabNormal(flat, f)).toBeCloseTo(tabStress(sections, f).normal, 8);
    }
  });
});
