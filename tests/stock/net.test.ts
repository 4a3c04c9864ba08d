/**
 * The largest flow through blocks against the least cut found by trying every one (max-flow min-cut: Ford and Fulkerson, Maximal flow
 * through a network, 1956), and against widths known beforehand.
 */
import { describe, expect, it } from 'vitest';
import { FlowNet } from '../../src/stock/net.ts';
import { random, runs, SEED } from '../runs.ts';

function leastCut(cols: number, room: Float32Array, ends: readonly number[], from: readonly number[]): number {
  const free = [...room.keys()].filter((k) => !ends.includes(k) && !from.includes(k));
  let least = Infinity;
  for (let bits = 0; bits < 1 << free.length; bits++) {
    const inside = new Set([...from, ...free.filter((_, i) => (bits >> i) & 1)]);
    let cut = 0;
    for (const a of inside) {
      const next = [a % cols > 0 ? a - 1 : -1, a % cols < cols - 1 ? a + 1 : -1, a - cols, a + cols];
      for (const b of next) if (b >= 0 && b < room.length && !inside.has(b)) cut += Math.min(room[a]!, room[b]!);
    }
    least = Math.min(least, cut);
  }
  return least;
}

const endsOf = (length: number, ends: readonly number[]) =>
  Uint8Array.from({ length }, (_, k) => (ends.includes(k) ? 1 : 0));

describe('flow through blocks', () => {
  it('is the least cut', () => {
    const unit = random(SEED);
    const count = runs(100);
    let cut = 0;
    for (let i = 0; i < count; i++) {
      const cols = 3 + Math.floor(unit() * 2);
      const rows = 12 / cols;
      const room = Float32Array.from({ length: cols * rows }, () => (unit() < 0.3 ? 0 : Math.ceil(unit() * 8) / 2));
      const from = [Math.floor(unit() * room.length)];
      const ends = [room.length - 1, 0].filter((k) => k !== from[0]);
      const flow = new FlowNet(cols, room, endsOf(room.length, ends)).carry(from, 1000);
      const least = leastCut(cols, room, ends, from);
      expect(flow, `run ${i} of seed ${SEED}`).toBeCloseTo(least, 4);
      if (least > 0) cut++;
    }
    expect(cut).toBeGreaterThan(count / 4);
  });

  it('fills a strip as wide as it is, goes no further than is asked, and shares what there is', () => {
    const cols = 20;
    const room = new Float32Array(cols * 5).fill(2);
    const ends = [19, 39, 59, 79, 99];
    const start = [0, 20, 40, 60, 80];
    expect(new FlowNet(cols, room, endsOf(100, ends)).carry(start, 1000)).toBeCloseTo(10, 6);
    expect(new FlowNet(cols, room, endsOf(100, ends)).carry(start, 7)).toBeCloseTo(7, 6);
    const two = new FlowNet(cols, room, endsOf(100, [59]));
    expect(two.carry([0], 4)).toBeCloseTo(4, 6);
    // Three sides of the end carry two each; the first has taken four.
    expect(two.carry([80], 4)).toBeCloseTo(2, 6);
  });

  it('leads what flows already another way where only that makes room', () => {
    // Two rows, the upper one shut at its end but for what turns down.
    const room = Float32Array.from([1, 1, 1, 1, 1, 0]);
    const net = new FlowNet(3, room, endsOf(6, [2]));
    expect(net.carry([1], 1)).toBeCloseTo(1, 6);
    expect(net.carry([3], 1)).toBeCloseTo(0, 6);
    expect(net.carry([2], 5)).toBe(5);
  });
});
