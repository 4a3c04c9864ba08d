/** Layouts hung one after another against each hung by itself (`hang`): the same mechanics by another order of sums. */
import { describe, expect, it } from 'vitest';
import { type Connector, frameCompliance, hang } from '../../../src/mechanics/plate/hang.ts';
import { HungLayouts } from '../../../src/mechanics/plate/hung-layouts.ts';
import { assemble, edgeAxes, toLocal } from '../../../src/mechanics/support/supports.ts';

const COUNT = 7;
const SIZE = 6 * COUNT;

/** A frame that gives under every root, and under the others by it: G = V V^T. */
const v = Float64Array.from({ length: SIZE * SIZE }, (_, i) => 1e-3 * Math.sin(1 + 7 * i));
const blocks = new Float64Array(SIZE * SIZE);
for (let r = 0; r < SIZE; r++) {
  for (let c = 0; c < SIZE; c++) {
    let sum = 0;
    for (let k = 0; k < SIZE; k++) sum += v[SIZE * r + k]! * v[SIZE * c + k]!;
    const [a, b] = [Math.floor(r / 6), Math.floor(c / 6)];
    blocks[36 * (a * COUNT + b) + 6 * (r % 6) + (c % 6)] = sum;
  }
}
const give = { nodes: Array.from({ length: COUNT }, (_, i) => i), blocks };

const connectors = Array.from({ length: COUNT }, (_, i): Connector => {
  const angle = (2 * Math.PI * i) / COUNT + 0.1 * i;
  const flexibility = new Float64Array(36);
  for (let k = 0; k < 6; k++) flexibility[7 * k] = 1e-5 * (1 + k + i);
  const out = (r: number) => [r * Math.cos(angle), r * Math.sin(angle), -1] as const;
  const [at, axes] = [out(20), edgeAxes(angle)];
  return { at, axes, order: 6, flexibility, root: { index: i, rows: toLocal({ at, axes }, out(23)) } };
});

describe('layouts of tabs hung one after another', () => {
  it('give the compliance and the shares of each hung by itself', () => {
    const origin = [1, -2, -0.5] as const;
    const hung = new HungLayouts([...connectors, null], give, assemble([], origin), origin);
    const layouts = [
      [0, 2, 4],
      [0, 2, 5],
      [0, 2, 5],
      [1, 2, 5],
      [1, 6],
      [3, 1, 6, 0],
      [3, 1, 6, 4],
      [3, 1, 5, 4],
    ];
    let seen = 0;
    for (const layout of layouts) {
      const used = layout.map((n) => connectors[n]!);
      const alone = hang(used, (i, j) => frameCompliance(give, used[i]!, used[j]!), assemble([], origin), origin);
      if (alone.kind === 'loose') throw new Error('a layout of the test is loose');
      close(hung.complianceOf(layout)!, alone.compliance);
      hung.recovers(layout).forEach((r, i) => close(r, alone.recover[i]!));
      seen++;
    }
    expect(seen).toBe(layouts.length);
  });

  it('know a place without a tab, and go on after it', () => {
    const origin = [0, 0, 0] as const;
    const hung = new HungLayouts([...connectors, null], give, assemble([], origin), origin);
    const first = Float64Array.from(hung.complianceOf([0, 3])!);
    expect(hung.complianceOf([0, COUNT])).toBeNull();
    expect([...hung.complianceOf([0, 3])!]).toEqual([...first]);
  });
});

function close(found: Float64Array, wanted: Float64Array): void {
  const size = Math.max(...wanted.map(Math.abs));
  expect(found.length).toBe(wanted.length);
  found.forEach((x, i) => expect(Math.abs(x - wanted[i]!)).toBeLessThan(1e-9 * size));
}
