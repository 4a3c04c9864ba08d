/** How much of a tab's section goes on through the stock: closed forms of a neck, a foil and a cut, at the stroke that made them. */
import { describe, expect, it } from 'vitest';
import type { Removal } from '../../../src/check/field/removal.ts';
import { checkFrame } from '../../../src/check/held/frame.ts';
import { Findings } from '../../../src/check/report/findings.ts';
import type { MeasuredTab } from '../../../src/check/tabs/tabs.ts';
import type { Labels } from '../../../src/check/wanted/labels.ts';
import type { CheckedSetUp } from '../../../src/check/work.ts';
import { fieldOf } from '../../../src/stock/field.ts';

/** Stock 60 x 40 x 5, clamped over 6 mm at both ends; a part 20 x 20 in its middle, cut round 3 mm wide; one tab towards +X. */
const CELL = 0.2;
const THICK = 5;
const SLOT = 3;
const clamps = [0, 54].map((x) => ({
  kind: 'block' as const,
  min: [x, 0] as const,
  max: [x + 6, 40] as const,
  top: 8,
}));

interface Shape {
  readonly heights: Float32Array;
  readonly part: Int16Array;
}

/** `groove`: height left at a point beyond the slot. */
function stockWith(groove: (x: number, y: number) => number): Shape & { field: ReturnType<typeof fieldOf> } {
  const field = fieldOf([0, 0], [60, 40], 0, THICK, CELL);
  const part = new Int16Array(field.heights.length);
  const heights = field.heights.map((_, k) => {
    const x = ((k % field.cols) + 0.5) * CELL;
    const y = (Math.floor(k / field.cols) + 0.5) * CELL;
    const off = Math.max(Math.abs(x - 30), Math.abs(y - 20)) - 10;
    if (off < 0) part[k] = 1;
    if (off >= 0 && off < SLOT) return x > 30 && Math.abs(y - 20) < 1.5 ? 1 : 0;
    return off < 0 ? THICK : groove(x, y);
  });
  return { field, heights, part };
}

const tab = { number: 1, part: 0, at: { x: 40, y: 20 }, directionDeg: 0, width: 3, height: 1, footprint: 6, block: 7 };
const bar: MeasuredTab = { tab, waist: 3, height: 1, heightAtEdge: 1, lowered: [] };

const STROKES = 9;
const GROOVED_BY = 4;

function shareOf(groove: (x: number, y: number) => number) {
  const { field, heights, part } = stockWith(groove);
  const whole = stockWith(() => THICK).heights;
  const removal = {
    field: { ...field, heights },
    at: (count: number) => (count > GROOVED_BY ? heights : whole),
  } as unknown as Removal;
  const job = { clamps, stock: { min: [0, 0, 0], max: [60, 40, THICK] }, cutters: [{ number: 1, diameter: SLOT }] };
  const strokes = { length: STROKES, at: (index: number) => ({ index, program: 0, block: 100 + index }) };
  const programs = [{ head: { events: [], cutters: [{ number: 1 }], hold: { by: 'tabs' } } }];
  const work = {
    job,
    strokes,
    programs,
    wanted: { parts: [{ index: 0 }], thickness: THICK },
  } as unknown as CheckedSetUp;
  const out = new Findings(['a.ngc']);
  const { bars, known } = checkFrame(work, removal, { part } as Labels, [bar], out);
  return { share: bars[0]!.frame?.share ?? 1, from: bars[0]!.frame?.from, known, told: out.list };
}

/** Cut right across on both sides of the part but for what `left` says. */
const across = (left: (y: number) => number) => (x: number, y: number) =>
  (x > 46 && x < 49) || (x > 11 && x < 14) ? left(y) : THICK;

describe('the stock between a tab and the clamps', () => {
  it('that is whole carries all of it', () => {
    expect(shareOf(() => THICK)).toMatchObject({ share: 1, known: true, told: [] });
    // Half the thickness over the whole width is still more than the tab.
    expect(shareOf(across(() => 2.5)).share).toBe(1);
  });

  it('carries as much as a neck is wide, less the staircase', () => {
    for (const wide of [0.4, 0.6]) {
      // Necks on both sides of the part.
      const { share, from, told } = shareOf(across((y) => (Math.abs(y - 20) < wide / 2 ? THICK : 0)));
      expect(share).toBeCloseTo(Math.min(1, (2 * wide * THICK) / Math.SQRT2 / 3), 4);
      if (share === 1) continue;
      expect(from).toBe(GROOVED_BY);
      expect(told.map((f) => [f.code, f.block])).toEqual([['frame-weak', 100 + GROOVED_BY]]);
    }
    expect(shareOf(across((y) => (Math.abs(y - 20) < 0.2 ? 1 : 0))).share).toBeLessThan(0.1);
  });

  it('folds where it is a foil, though the whole stock is as wide', () => {
    const h = 0.1;
    const fold = (0.866 * h * h) / SLOT;
    expect(shareOf(across(() => h)).share).toBeCloseTo((2 * 40 * fold) / Math.SQRT2 / 3, 3);
  });

  it('carries nothing where it is cut through', () => {
    expect(shareOf(across(() => 0))).toMatchObject({ share: 0, from: GROOVED_BY });
  });
});
