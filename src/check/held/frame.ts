/**
 * The stock between tabs (or stubs) and clamps: does every section through it carry as much as the tabs themselves, in plain shear? A tab
 * is counted on no further than that. Looked for in blocks of cells, each as strong as its lowest cell, so that what is narrower than a block
 * counts for nothing; smaller blocks are taken where larger ones do not show it. Bending of long arms of stock is not in it.
 */
import { cosine, sine } from '../../base/angles.ts';
import { type Mm, type Mm2, toRad } from '../../base/units.ts';
import { rot90, step } from '../../geometry/measure/point.ts';
import type { Point } from '../../geometry/types.ts';
import type { Job } from '../../part/part.ts';
import { type Blocks, blockCentre, blocksIn, blocksOf } from '../../stock/blocks.ts';
import { type Field, heightOver } from '../../stock/field.ts';
import { firstWhere } from '../../stock/history.ts';
import { FlowNet } from '../../stock/net.ts';
import type { Removal } from '../field/removal.ts';
import type { HeadTab } from '../program/head.ts';
import type { Findings } from '../report/findings.ts';
import { FRAME_REMEDY } from '../strength/grip.ts';
import type { MeasuredTab } from '../tabs/tabs.ts';
import type { Labels } from '../wanted/labels.ts';
import type { CheckedSetUp } from '../work.ts';
import { underClamp } from './support.ts';

/** Sides of blocks, the largest first: about as wide as a tab, and down to what is hardly metal to rely on. */
const SIDES: readonly Mm[] = [2, 1, 0.5, 0.25];
/** Smaller blocks than so many would take seconds where the stock hangs on a foil; what is narrower than a block counts for nothing. */
const MOST_BLOCKS = 60_000;
/** A block counts as uncut when no more than this is off it. */
const UNCUT: Mm = 0.1;
/** A staircase of square blocks is as much longer, at most, than the section it stands for. */
const STAIRCASE = Math.SQRT2;
/** Of a tab's section: less is lost to rounding. */
const WHOLE = 0.999;

export interface Framed {
  /** The same bars, each with what the frame behind it carries. */
  readonly bars: readonly MeasuredTab[];
  /** False where nothing is known of the clamps. */
  readonly known: boolean;
}

/** Bars as far as the frame bears them. What is lacking is told at the stroke that brought it about. */
export function checkFrame(
  work: CheckedSetUp,
  removal: Removal,
  labels: Labels,
  bars: readonly MeasuredTab[],
  out: Findings,
): Framed {
  const moved = work.programs.some((p) => p.head.events.some((e) => e.kind === 'clamp'));
  if (bars.length === 0 || work.job.clamps.length === 0 || moved) return { bars, known: false };
  const stock = { work, field: removal.field, labels };
  const shares = sharesOf(stock, removal.field.heights, bars);
  const from = bars.map((_, i) => {
    if (shares[i]! >= WHOLE) return 0;
    const lost = (count: number) => sharesOf(stock, removal.at(count), bars)[i]! < WHOLE;
    return Math.max(0, firstWhere(0, work.strokes.length, lost) - 1);
  });
  for (const [i, bar] of bars.entries()) if (shares[i]! < WHOLE) tell(bar, shares[i]!, from[i]!, work, out);
  const framed = bars.map((bar, i) =>
    shares[i]! < WHOLE ? { ...bar, frame: { share: shares[i]!, from: from[i]! } } : bar,
  );
  return { bars: framed, known: true };
}

function tell(bar: MeasuredTab, share: number, stroke: number, work: CheckedSetUp, out: Findings): void {
  const { tab } = bar;
  const s = work.strokes.at(stroke);
  const stub = work.programs[0]?.head.hold?.by === 'stub';
  const name = stub ? `the stub of part ${tab.part + 1}` : `tab ${tab.number} of part ${tab.part + 1}`;
  out.caution({
    code: 'frame-weak',
    at: { program: s?.program ?? 0, block: s?.block ?? tab.block, at: [tab.at.x, tab.at.y] as const },
    found: `the stock between ${name} and the clamps carries ${share.toFixed(2)} of what ${stub ? 'the stub' : 'the tab'} does, in plain shear`,
    wanted: stub ? 'as much as the stub' : 'as much as the tab',
    remedy: FRAME_REMEDY,
  });
}

interface FrameStock {
  readonly work: CheckedSetUp;
  readonly field: Field;
  readonly labels: Labels;
}

/** Of each bar's own section, how much goes on through the frame while the others of its part bear as well: 1 where the frame is no weaker. */
function sharesOf(stock: FrameStock, heights: Float32Array, bars: readonly MeasuredTab[]): number[] {
  let best = bars.map(() => 0);
  for (const side of sidesFor(stock.field)) {
    const blocks = blocksOf(stock.field, heights, stock.labels.part, side);
    const room = roomOf(blocks, stock);
    const ends = endsOf(blocks, stock.work.job);
    const nets = stock.work.wanted.parts.map(() => new FlowNet(blocks.cols, room, ends));
    const shares = bars.map((bar) => {
      const wanted = sectionAsked(bar);
      const from = rootOf(stock, heights, blocks, bar);
      return wanted > 0 ? (nets[bar.tab.part]?.carry(from, wanted) ?? 0) / wanted : 1;
    });
    if (sum(shares) > sum(best)) best = shares;
    if (best.every((s) => s >= WHOLE)) break;
  }
  return best;
}

function sidesFor({ cols, rows, cell }: Field): readonly Mm[] {
  const least = Math.sqrt((cols * rows) / MOST_BLOCKS) * cell;
  const small = SIDES.filter((side) => side >= least);
  return small.length > 0 ? small : [least];
}

const sum = (list: readonly number[]) => list.reduce((a, b) => a + b, 0);

function sectionAsked({ tab, waist, height }: MeasuredTab): Mm2 {
  return Math.max(0, Math.min(waist, 2 * tab.width)) * Math.max(0, height);
}

/**
 * Section that a side of each block brings: its height where it is uncut. What is cut into from above folds across the cutter's slot before it
 * shears: 0.866 h^2 over the slot's width, when two lines of plastic bending are held against 0.577 Rp h.
 */
function roomOf(blocks: Blocks, { work, field }: FrameStock): Float32Array {
  const top = work.job.stock.max[2] - field.bottom;
  const named = new Set(work.programs.flatMap((p) => p.head.cutters.map((c) => c.number)));
  const slot = Math.max(...work.job.cutters.filter((c) => named.has(c.number)).map((c) => c.diameter));
  return blocks.least.map((z) => {
    const h = Math.max(0, z - field.bottom);
    return ((h > top - UNCUT ? h : Math.min(h, (FOLD * h * h) / slot)) * blocks.side) / STAIRCASE;
  });
}

/** Two hinges of h^2/4 over 0.577 h: Rp h^2 / (2 w) of lift for every mm, von Mises. */
const FOLD = Math.sqrt(3) / 2;

function endsOf(blocks: Blocks, job: Job): Uint8Array {
  const ends = new Uint8Array(blocks.least.length);
  for (let k = 0; k < ends.length; k++) {
    const { x, y } = blockCentre(blocks, k);
    if (underClamp(job, x, y)) ends[k] = 1;
  }
  return ends;
}

/** Blocks at a bar's outer end: what lies nearer is in its waist. */
function rootOf(stock: FrameStock, heights: Float32Array, blocks: Blocks, { tab }: MeasuredTab): number[] {
  const angle = toRad(tab.directionDeg);
  const out = { x: cosine(angle), y: sine(angle) };
  const most = tab.footprint + tab.width;
  const risen = risenAt(stock, heights, tab, out, most);
  const length = Math.min(most, risen + ROOT * blocks.side);
  return blocksIn(blocks, { at: tab.at, out, length, width: Math.max(tab.width, ROOT * blocks.side) });
}

/** Sides of a block beyond the slot in which a whole one must lie. */
const ROOT = 2;

/** How far out the stock is whole again beside a bar and behind it; `most` where it is not before. */
function risenAt({ field, work }: FrameStock, heights: Float32Array, tab: HeadTab, out: Point, most: Mm): Mm {
  const whole = work.job.stock.max[2] - UNCUT;
  const beside = tab.footprint / 2;
  let risen: Mm = 0;
  for (const aside of [-beside, 0, beside]) {
    let low = false;
    for (let far = field.cell; far < most; far += field.cell) {
      const h = heightOver(field, heights, step(step(tab.at, out, far), rot90(out), aside));
      if (h < whole) low = true;
      else if (low) {
        risen = Math.max(risen, far);
        break;
      }
    }
  }
  return risen === 0 ? most : risen;
}
