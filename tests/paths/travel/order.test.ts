import { describe, expect, it } from 'vitest';
import { bad, fault } from '../../../src/base/problem.ts';
import { dist } from '../../../src/geometry/measure/point.ts';
import type { Point } from '../../../src/geometry/types.ts';
import { readJob } from '../../../src/part/read.ts';
import type { Move } from '../../../src/paths/moves.ts';
import { makeMoves } from '../../../src/paths/paths.ts';
import { shortOrder, visitOrder, wayOf } from '../../../src/paths/travel/order.ts';
import { makePlan } from '../../../src/plan/make-plan.ts';
import { random, runs, SEED } from '../../runs.ts';
import { abilities, must, onThreeTabs } from '../helpers.ts';

const START = { x: 0, y: 0 };

function length(tour: readonly Point[]): number {
  return tour.reduce((sum, p, i) => sum + dist(i === 0 ? START : tour[i - 1]!, p), 0);
}

function nearest(places: readonly Point[]): Point[] {
  const rest = [...places];
  const out: Point[] = [];
  let here: Point = START;
  while (rest.length > 0) {
    rest.sort((a, b) => dist(here, a) - dist(here, b));
    here = rest.shift()!;
    out.push(here);
  }
  return out;
}

/** The shortest of all orders, by trying every one. */
function shortest(places: readonly Point[]): number {
  const walk = (here: Point, rest: readonly Point[]): number =>
    rest.length === 0
      ? 0
      : Math.min(...rest.map((p, i) => dist(here, p) + walk(p, [...rest.slice(0, i), ...rest.slice(i + 1)])));
  return walk(START, places);
}

describe('order of visiting', () => {
  it('visits every place once, never further than nearest first, the same way each time', () => {
    const r = random(SEED);
    let seen = 0;
    for (let i = 0; i < runs(300); i++) {
      const places = Array.from({ length: 2 + Math.floor(r() * 20) }, () => ({ x: r() * 100, y: r() * 60 }));
      const order = shortOrder(places, START);
      expect(new Set(order)).toEqual(new Set(places));
      expect(length(order)).toBeLessThanOrEqual(length(nearest(places)) + 1e-9);
      expect(shortOrder(places, START)).toEqual(order);
      seen++;
    }
    expect(seen).toBe(runs(300));
  });

  it('is the shortest possible for up to nine places', () => {
    const r = random(SEED + 1);
    const count = runs(100);
    for (let i = 0; i < count; i++) {
      const places = Array.from({ length: 1 + Math.floor(r() * 7) }, () => ({ x: r() * 100, y: r() * 60 }));
      expect(length(shortOrder(places, START))).toBeCloseTo(shortest(places), 9);
    }
  });

  it('of visits that end elsewhere than they begin: never longer than the order given, however many', () => {
    const r = random(SEED + 2);
    let shorter = 0;
    for (let i = 0; i < runs(200); i++) {
      const place = () => ({ x: r() * 100, y: r() * 60 });
      const visits = Array.from({ length: 1 + Math.floor(r() * 25) }, () => ({ from: place(), to: place() }));
      const given = visits.map((_, k) => k);
      const order = visitOrder(visits, START);
      expect([...order].sort((a, b) => a - b)).toEqual(given);
      const ways = [wayOf(order, visits, START), wayOf(given, visits, START)] as const;
      expect(ways[0]).toBeLessThanOrEqual(ways[1] + 1e-9);
      if (ways[0] < ways[1] - 1e-6) shorter++;
    }
    expect(shorter).toBeGreaterThan(runs(200) / 2);
  });
});

/** Copies of a lever at places drawn by chance, in the job in any order. */
function copies(seed: number) {
  const r = random(seed);
  const spots = Array.from({ length: 12 }, (_, i) => ({ at: [30 + 70 * (i % 3), 20 + 30 * Math.floor(i / 3)] }));
  const count = 3 + Math.floor(r() * 6);
  const place = Array.from({ length: count }, () => ({
    ...spots.splice(Math.floor(r() * spots.length), 1)[0]!,
    turn: r() < 0.5 ? 0 : 180,
  })).map((p) => (p.turn === 180 ? { ...p, at: [p.at[0]! + 32, p.at[1]!] } : p));
  const job = {
    name: 'copies',
    material: 'CuZn39Pb3',
    part: {
      thickness: 3,
      outline: {
        bosses: [
          { at: [0, 0], radius: 6 },
          { at: [32, 0], radius: 4 },
        ],
      },
      holes: [{ at: [0, 0], bore: 7 }],
      chamfer: 0.2,
    },
    stock: { size: [240, 140, 3], measured: 3 },
    place,
    clamps: [{ from: [0, 0], to: [8, 140], height: 12 }],
    machine: { travel: [300, 200, 150] },
    hold: { by: 'tabs', tabs: { count: 3, width: 2, height: 0.8, lightenTo: 0.4 } },
  };
  const read = must(
    readJob(JSON.stringify(job), 'job.json', {
      read: () => bad(fault({ code: 'file-missing', found: '', wanted: '', remedy: '' })),
    }),
  );
  const plan = must(makePlan(read));
  const held = onThreeTabs(read, plan);
  const holding = { ...held, tabs: held.tabs.map((t) => ({ ...t, height: 0.4 })) };
  return { job: read, moves: must(makeMoves({ job: read, plan, holding, post: abilities('standard'), cautions: [] })) };
}

interface Stay {
  readonly part: number;
  readonly from: Point;
  readonly to: Point;
}

/** Of each operation: on which part the cutter is, from where to where, in the order of the program. */
function staysOf(moves: readonly Move[], parts: readonly Point[]): Map<string, Stay[]> {
  const stays = new Map<string, Stay[]>();
  let operation = '';
  let at: Point = { x: Number.NaN, y: Number.NaN };
  for (const m of moves) {
    if (m.kind === 'operation') operation = m.title;
    if (m.kind !== 'rapid' && m.kind !== 'feed' && m.kind !== 'arc') continue;
    at = { x: m.x ?? at.x, y: m.y ?? at.y };
    if (Number.isNaN(at.x)) continue;
    const part = parts.reduce((best, p, i) => (dist(p, at) < dist(parts[best]!, at) ? i : best), 0);
    const list = stays.get(operation) ?? stays.set(operation, []).get(operation)!;
    const last = list.at(-1);
    if (last?.part === part) list[list.length - 1] = { ...last, to: at };
    else list.push({ part, from: at, to: at });
  }
  return stays;
}

describe('copies in a program', () => {
  it('are visited in an order never longer than that of the job, all roughed before any is finished', () => {
    let [here, there, seen] = [0, 0, 0];
    for (let i = 0; i < runs(20); i++) {
      const { job, moves } = copies(SEED + i);
      const middles = job.places.map(({ at, turn }) => ({
        x: at.x + 14 * Math.cos(turn),
        y: at.y + 14 * Math.sin(turn),
      }));
      const stays = staysOf(moves.programs[0]!.moves, middles);
      const titles = [...stays.keys()];
      for (const [title, list] of stays) {
        const several = /rough|finish the outline|chamfer|thin|bore/.test(title) && list.length === job.places.length;
        if (!several) continue;
        seen++;
        const given = [...list].sort((a, b) => a.part - b.part);
        const order = list.map((_, k) => k);
        const start = list[0]!.from;
        const way = wayOf(order, list, start);
        // Whatever came before: the way to the first is left out of one and put in front of the other.
        expect(way, `seed ${SEED + i}, ${title}`).toBeLessThanOrEqual(wayOf(order, given, start) + 1e-6);
        here += way;
        there += wayOf(order, given, start);
      }
      const last = titles.findLastIndex((t) => t.startsWith('rough'));
      expect(titles.findIndex((t) => t.startsWith('finish'))).toBeGreaterThan(last);
    }
    console.log(
      `order: ${seen} operations on copies, ${here.toFixed(0)} mm between them, ${there.toFixed(0)} as in the job`,
    );
    expect(seen).toBeGreaterThan(runs(20));
    expect(here).toBeLessThan(0.8 * there);
  }, 120_000);
});
