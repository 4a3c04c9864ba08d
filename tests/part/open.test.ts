/** Pockets that run over the edge of the part: what is left of them, of the outline, and of the edge for tabs. */
import { describe, expect, it } from 'vitest';
import { loopArea, loopLength } from '../../src/geometry/measure/loop.ts';
import { box } from '../box.ts';
import { type Loose, readGood, theFault } from './jobs.ts';

/** 60 by 40, 5 thick. */
function plate(...pockets: Loose[]): Loose {
  return {
    material: 'O1',
    part: { thickness: 5, outline: box(0, 0, 60, 40), pockets },
    stock: { size: [140, 90, 5] },
  };
}

const partOf = (...pockets: Loose[]) => readGood(plate(...pockets)).part;

describe('blind pockets over the edge', () => {
  it('keep what lies within the part, and know their open side', () => {
    const part = partOf({ outline: { slot: { from: [20, 30], to: [20, 55], width: 6 } }, depth: 2 });
    const [pocket] = part.pockets;
    // Half a disc and the straight walls up to the edge.
    expect(loopArea(pocket!.outline.loop)).toBeCloseTo(6 * 10 + (Math.PI * 9) / 2, 9);
    expect(pocket!.open).toHaveLength(1);
    expect(loopLength(pocket!.open[0]!)).toBeCloseTo(6, 9);
    expect(part.outline.loop).toHaveLength(4);
    expect(part.noTabs).toEqual([{ kind: 'stretch', from: { x: 23, y: 40 }, to: { x: 17, y: 40 }, cutBy: 'pocket' }]);
  });

  it('drawn flush with the edge are open there', () => {
    const [pocket] = partOf({ outline: box(10, 30, 18, 40), depth: 2 }).pockets;
    expect(loopArea(pocket!.outline.loop)).toBeCloseTo(80, 9);
    expect(pocket!.open.map(loopLength)).toEqual([expect.closeTo(8, 9)]);
  });

  it('right across have two open sides, round a corner one of two pieces', () => {
    expect(partOf({ outline: box(20, -3, 28, 45), depth: 2 }).pockets[0]!.open.map(loopLength)).toEqual([
      expect.closeTo(8, 9),
      expect.closeTo(8, 9),
    ]);
    const [corner] = partOf({ outline: box(50, 30, 70, 50), depth: 2 }).pockets;
    expect(corner!.open.map((m) => [m.length, loopLength(m)])).toEqual([[2, expect.closeTo(20, 9)]]);
  });

  it('inside the part are closed', () => {
    expect(partOf({ outline: box(10, 10, 18, 18), depth: 2 }).pockets[0]!.open).toEqual([]);
  });
});

describe('through pockets over the edge', () => {
  it('are taken out of the outline, which knows them, and are no pockets', () => {
    const part = partOf(
      { outline: { slot: { from: [20, 30], to: [20, 55], width: 6 } }, through: true },
      { outline: box(40, 10, 50, 20), depth: 1 },
    );
    expect(loopArea(part.outline.loop)).toBeCloseTo(2400 - 60 - (Math.PI * 9) / 2, 9);
    expect(part.outline.cut!.less).toHaveLength(1);
    expect(part.pockets.map((p) => p.index)).toEqual([1]);
    expect(part.noTabs).toEqual([{ kind: 'stretch', from: { x: 23, y: 40 }, to: { x: 17, y: 40 }, cutBy: 'pocket' }]);
  });

  it('one may open into another', () => {
    const part = partOf(
      { outline: box(22, 20, 30, 24), through: true },
      { outline: box(20, 22, 26, 45), through: true },
    );
    expect(loopArea(part.outline.loop)).toBeCloseTo(2400 - 6 * 18 - (8 * 4 - 4 * 2), 9);
    expect(part.pockets).toEqual([]);
  });

  it('a boss keeps its dimensions', () => {
    const job = plate({ outline: { slot: { from: [30, 0], to: [60, 0], width: 4 } }, through: true });
    job.part.outline = {
      bosses: [
        { at: [0, 0], radius: 9 },
        { at: [30, 0], radius: 7 },
      ],
    };
    job.part.noTabs = [{ boss: 0 }];
    const { outline, noTabs } = readGood(job).part;
    expect(outline.source.kind).toBe('bosses');
    expect(noTabs).toHaveLength(2);
  });
});

describe('refused', () => {
  it.each<[string, Loose, string]>([
    ['wholly outside', { outline: box(70, 10, 80, 20), depth: 1 }, 'pocket-outside'],
    ['round the part', { outline: box(-5, -5, 65, 45), depth: 1 }, 'pocket-outside'],
    ['over all of the part', { outline: box(0, 0, 60, 40), depth: 1 }, 'pocket-over-all'],
    ['a wall that only touches the edge', { outline: box(10, 10, 18, 39.9), depth: 1 }, 'wall-too-thin'],
    ['cutting the part in two', { outline: box(20, -5, 28, 45), through: true }, 'opening-parts'],
    [
      'meeting the part twice',
      {
        outline: {
          vertices: [
            [10, 35],
            [14, 35],
            [14, 45],
            [30, 45],
            [30, 35],
            [34, 35],
            [34, 50],
            [10, 50],
          ],
        },
        depth: 1,
      },
      'pocket-parts',
    ],
  ])('%s', (_, pocket, code) => {
    expect(theFault(plate(pocket)).code).toBe(code);
  });

  it('a hole in what is taken away', () => {
    const job = plate({ outline: box(20, 20, 30, 45), through: true });
    job.part.holes = [{ at: [25, 30], drill: 3 }];
    expect(theFault(job).code).toBe('hole-outside');
  });
});
