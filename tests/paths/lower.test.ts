/** Lowering for small controls, against what a control makes of the same words (as the reader of the check understands them). */
import { describe, expect, it } from 'vitest';
import { readProgram } from '../../src/check/language/read.ts';
import { nearestOn, pointAt } from '../../src/geometry/measure/segment.ts';
import { lower } from '../../src/paths/lower.ts';
import type { Move } from '../../src/paths/moves.ts';
import { random, SEED } from '../runs.ts';
import { abilities, cutsOf, sample } from './helpers.ts';

const LINES = abilities('lines');
const PLAIN = abilities('plain');
const STANDARD = abilities('standard');

type Arc = Extract<Move, { kind: 'arc' }>;

function arcMove(r: () => number): { from: Move; arc: Arc; radius: number } {
  const radius = 0.3 + 20 * r();
  const centre = { x: 50 * r(), y: 50 * r() };
  const start = 2 * Math.PI * r();
  const sweep = 0.1 + 6 * r();
  const turn = r() < 0.5 ? 1 : -1;
  const at = (a: number) => ({ x: centre.x + radius * Math.cos(a), y: centre.y + radius * Math.sin(a) });
  return {
    from: { kind: 'feed', ...at(start), z: 0, feed: 100 },
    arc: { kind: 'arc', ...at(start + turn * sweep), z: -1, centre, counterClockwise: turn > 0, feed: 100 },
    radius,
  };
}

describe('arcs for a control without arcs', () => {
  it('become chords within the chord error, evenly deep, ending at the same place', () => {
    const r = random(SEED);
    let worst = 0;
    let chords = 0;
    for (let i = 0; i < 300; i++) {
      const { from, arc, radius } = arcMove(r);
      const out = lower([from, arc], LINES);
      let at = from as Extract<Move, { kind: 'feed' }>;
      for (const m of out.slice(1)) {
        if (m.kind !== 'feed') throw new Error(`a ${m.kind} among chords`);
        const middle = { x: (at.x! + m.x!) / 2, y: (at.y! + m.y!) / 2 };
        worst = Math.max(worst, Math.abs(radius - Math.hypot(middle.x - arc.centre.x, middle.y - arc.centre.y)));
        expect(m.z!).toBeLessThan(at.z! + 1e-9);
        at = m;
        chords++;
      }
      expect([at.x, at.y, at.z]).toEqual([arc.x, arc.y, arc.z]);
    }
    expect(chords).toBeGreaterThan(1000);
    // Chord error and the rounding of both ends to the grid.
    expect(worst).toBeLessThanOrEqual(LINES.chord + LINES.grid);
  });

  it('are left alone where the post speaks them', () => {
    const { from, arc } = arcMove(random(SEED));
    expect(lower([from, arc], STANDARD)).toEqual([from, arc]);
  });
});

/** NISTIR 6556 (RS274/NGC), section 3.5.16: the motions of G81, G82, G83, G85 with G98. */
describe('cycles for a control without cycles', () => {
  const holes = (text: string) => {
    const cuts = cutsOf(text).filter(
      (c) => c.path.kind === 'line' && c.path.a.x === c.path.b.x && c.path.a.y === c.path.b.y,
    );
    const deepest = new Map<string, number>();
    for (const c of cuts) {
      const key = `${c.path.a.x.toFixed(4)} ${c.path.a.y.toFixed(4)}`;
      deepest.set(key, Math.min(deepest.get(key) ?? 0, c.za, c.zb));
    }
    return deepest;
  };

  it('written out they go to the same places and depths as the cycles themselves', () => {
    let seen = 0;
    for (const name of ['lifting-lever', 'rack-arm', 'frame-cock']) {
      const cycles = sample(name, 'standard')
        .programs.map((p) => p.text)
        .join('\n');
      const drills = sample(name, 'plain').programs;
      const wanted = new Map<string, number>();
      for (const text of [cycles]) for (const [k, z] of holes(text)) wanted.set(k, z);
      const got = new Map<string, number>();
      for (const p of drills) for (const [k, z] of holes(p.text)) got.set(k, Math.min(got.get(k) ?? 0, z));
      for (const m of readProgram(cycles).moves) {
        if (m.kind !== 'feed' || m.cycle === null) continue;
        const key = `${m.to.x!.toFixed(4)} ${m.to.y!.toFixed(4)}`;
        expect(got.get(key), `${name} at ${key}`).toBeCloseTo(wanted.get(key)!, 4);
        seen++;
      }
    }
    expect(seen).toBeGreaterThan(10);
  });

  it('a peck goes down by Q, comes out, and returns short of where it was', () => {
    const cycle: Move = {
      kind: 'cycle',
      cycle: 'peck',
      places: [{ x: 3, y: 4 }],
      retract: 5,
      from: 1,
      bottom: -7,
      peck: 3,
      dwell: 0,
      feed: 80,
    };
    const out = lower([cycle], PLAIN);
    const feeds = out.flatMap((m) => (m.kind === 'feed' ? [m.z] : []));
    const rapids = out.flatMap((m) => (m.kind === 'rapid' ? [m.z] : []));
    expect(feeds).toEqual([-2, -5, -7]);
    expect(rapids[1]).toBe(1);
    expect(rapids.slice(2)).toEqual([5, -1.7, 5, -4.7, 5]);
  });

  it('a reamer feeds out again, a dwell is kept', () => {
    const cycle = (cycle: 'ream' | 'dwell', dwell: number): Move => ({
      kind: 'cycle',
      cycle,
      ...{ places: [{ x: 0, y: 0 }], retract: 5, from: 1, bottom: -3, peck: 0, dwell, feed: 60 },
    });
    const ream = lower([cycle('ream', 0)], PLAIN);
    expect(ream.filter((m) => m.kind === 'feed').map((m) => m.z)).toEqual([-3, 1]);
    const spot = lower([cycle('dwell', 0.5)], PLAIN);
    expect(spot).toContainEqual({ kind: 'dwell', seconds: 0.5 });
  });
});

describe('the written arcs', () => {
  it('pass through both written ends within the grid', () => {
    const text = sample('warning-lever').programs[0]!.text;
    let seen = 0;
    for (const c of cutsOf(text)) {
      if (c.path.kind !== 'arc') continue;
      const end = Math.hypot(c.path.b.x - c.path.centre.x, c.path.b.y - c.path.centre.y);
      expect(Math.abs(end - c.path.radius)).toBeLessThan(2e-4);
      expect(nearestOn(c.path, pointAt(c.path, 0.5)).distance).toBeLessThan(1e-6);
      seen++;
    }
    expect(seen).toBeGreaterThan(20);
  });
});
