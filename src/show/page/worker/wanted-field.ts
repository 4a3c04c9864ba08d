/**
 * What should stand in each cell of the field when the set-up is done, where a cell can tell: cells near a wall, under a
 * chamfer or where no cutter can reach are left out. For the picture; the verdict is the check's, which measures exact geometry.
 */
import type { Mm } from '../../../base/units.ts';
import { flattenLoop } from '../../../geometry/flatten.ts';
import type { Loop, Point } from '../../../geometry/types.ts';
import type { Field } from '../../../stock/field.ts';
import type { FlatSegment, ViewCutter, ViewData, ViewPart } from '../data/view-data.ts';
import { distanceField } from './distance-field.ts';

/** The cell is not judged. */
export const UNJUDGED = 0;
/** Too low is a gouge, too high is uncut. */
export const SOLID = 1;
/** Only too high is judged: through openings, holes, the slot beside the outline. */
export const OPEN = 2;

export interface WantedCells {
  readonly judge: Uint8Array;
  readonly height: Float32Array;
}

export type WantedFrom = Pick<ViewData, 'parts' | 'thickness' | 'spared' | 'floor' | 'cutters'>;

/** Breadth of the strip beside the outline that is judged. */
const STRIP: Mm = 0.4;
/** Cells nearer to a wall than this many may hold some of both sides. */
const NEAR_WALL = 1.6;

export function wantedField(f: Field, data: WantedFrom): WantedCells | null {
  if (data.parts.length === 0 || data.thickness === null) return null;
  const size = f.cols * f.rows;
  const height = new Float32Array(size).fill(NaN);
  const judge = new Uint8Array(size);
  const bottom = -data.thickness;
  const reach = smallestMill(data.cutters) / f.cell;
  for (const part of data.parts) paintPart(f, part, bottom, height, judge);
  leaveOutWalls(f, height, judge, chamferOf(data.parts) / f.cell);
  leaveOutUnreached(f, height, judge, reach);
  paintStrip(f, height, judge, reach, bottom, data);
  return { judge, height };
}

function paintPart(f: Field, part: ViewPart, bottom: Mm, height: Float32Array, judge: Uint8Array): void {
  const set = (to: Mm, how: number) => (k: number) => {
    height[k] = to;
    judge[k] = how;
  };
  fill(f, [part.outline], set(0, SOLID));
  for (const p of part.pockets)
    fill(f, [p.outline, ...p.islands], set(p.depth === null ? bottom : -p.depth, p.depth === null ? OPEN : SOLID));
  for (const h of part.holes) {
    if (h.mouth > h.diameter)
      disc(f, h.at, h.mouth / 2, h.counterbore === null ? set(0, UNJUDGED) : set(-h.counterbore, SOLID));
    disc(f, h.at, h.diameter / 2, set(h.depth === null ? bottom : -h.depth, OPEN));
  }
}

function chamferOf(parts: readonly ViewPart[]): Mm {
  return Math.max(0, ...parts.map((p) => p.chamfer));
}

function leaveOutWalls(f: Field, height: Float32Array, judge: Uint8Array, more: number): void {
  const differs = (a: number, b: number) => !Object.is(height[a], height[b]);
  const wall = new Uint8Array(height.length);
  for (let r = 0; r < f.rows; r++)
    for (let c = 0; c < f.cols; c++) {
      const k = r * f.cols + c;
      if (c + 1 < f.cols && differs(k, k + 1)) wall[k] = wall[k + 1] = 1;
      if (r + 1 < f.rows && differs(k, k + f.cols)) wall[k] = wall[k + f.cols] = 1;
    }
  const far = distanceField((k) => wall[k] === 1, f.cols, f.rows);
  for (let k = 0; k < judge.length; k++) {
    const near = NEAR_WALL + (judge[k] === SOLID && height[k] === 0 ? more : 0);
    if (far[k]! < near) judge[k] = UNJUDGED;
  }
}

/** In pockets, only what a disc of the smallest mill covers is judged as cut; its floor is judged for gouges all over. */
function leaveOutUnreached(f: Field, height: Float32Array, judge: Uint8Array, reach: number): void {
  const low = (k: number) => height[k]! < 0;
  const inside = distanceField((k) => !low(k), f.cols, f.rows);
  const centres = distanceField((k) => inside[k]! > reach, f.cols, f.rows);
  for (let k = 0; k < judge.length; k++) {
    // A drilled hole is narrower than any mill: it has no reachable centre near, and its own cutter fits it.
    if (low(k) && judge[k] === SOLID && centres[k]! > reach - 1) judge[k] = UNJUDGED;
    if (judge[k] === OPEN && centres[k]! > reach - 1 && centres[k]! < 4 * reach && inside[k]! < 2) judge[k] = UNJUDGED;
  }
}

/** Beside the outline the stock must be gone down to the part's lower face, or to the floor, but for tabs. */
function paintStrip(
  f: Field,
  height: Float32Array,
  judge: Uint8Array,
  reach: number,
  bottom: Mm,
  data: WantedFrom,
): void {
  const away = distanceField((k) => !Number.isNaN(height[k]!), f.cols, f.rows);
  const centres = distanceField((k) => away[k]! > reach, f.cols, f.rows);
  const strip = Math.max(STRIP / f.cell, NEAR_WALL + 1);
  for (let k = 0; k < judge.length; k++) {
    if (!Number.isNaN(height[k]!) || away[k]! > strip || away[k]! < NEAR_WALL) continue;
    if (centres[k]! > reach - 1 || isSpared(f, k, data)) continue;
    height[k] = bottom + (data.floor ?? 0);
    judge[k] = OPEN;
  }
}

function isSpared(f: Field, k: number, data: WantedFrom): boolean {
  const x = f.x0 + ((k % f.cols) + 0.5) * f.cell;
  const y = f.y0 + (Math.floor(k / f.cols) + 0.5) * f.cell;
  return data.spared.some((s) => Math.hypot(s.at[0] - x, s.at[1] - y) < s.radius);
}

function smallestMill(cutters: readonly ViewCutter[]): Mm {
  const mills = cutters.filter((c) => /mill|slot drill/.test(c.kind)).map((c) => c.diameter / 2);
  return mills.length === 0 ? 1 : Math.min(...mills);
}

function disc(f: Field, at: readonly [Mm, Mm], radius: Mm, set: (k: number) => void): void {
  const [x, y] = at;
  for (let r = 0; r < f.rows; r++) {
    const dy = f.y0 + (r + 0.5) * f.cell - y;
    if (Math.abs(dy) > radius) continue;
    const half = Math.sqrt(radius * radius - dy * dy);
    span(f, r, x - half, x + half, set);
  }
}

/** Even-odd fill by rows. */
function fill(f: Field, loops: readonly (readonly FlatSegment[])[], set: (k: number) => void): void {
  const rings = loops.map((l) => flattenLoop(loopOf(l), f.cell / 20));
  for (let r = 0; r < f.rows; r++) {
    const y = f.y0 + (r + 0.5) * f.cell;
    const xs = rings.flatMap((ring) => crossings(ring, y)).sort((a, b) => a - b);
    for (let i = 0; i + 1 < xs.length; i += 2) span(f, r, xs[i]!, xs[i + 1]!, set);
  }
}

function crossings(ring: readonly Point[], y: Mm): number[] {
  const out: number[] = [];
  for (const [i, a] of ring.entries()) {
    const b = ring[(i + 1) % ring.length]!;
    if (a.y <= y !== b.y <= y) out.push(a.x + ((y - a.y) / (b.y - a.y)) * (b.x - a.x));
  }
  return out;
}

function span(f: Field, row: number, lo: Mm, hi: Mm, set: (k: number) => void): void {
  const from = Math.max(0, Math.ceil((lo - f.x0) / f.cell - 0.5));
  const to = Math.min(f.cols - 1, Math.floor((hi - f.x0) / f.cell - 0.5));
  for (let c = from; c <= to; c++) set(row * f.cols + c);
}

export function loopOf(flat: readonly FlatSegment[]): Loop {
  return flat.map((s) => {
    const a = { x: s[0], y: s[1] };
    const b = { x: s[2], y: s[3] };
    if (s.length === 4) return { kind: 'line', a, b };
    const centre = { x: s[4], y: s[5] };
    return { kind: 'arc', a, b, centre, radius: Math.hypot(a.x - centre.x, a.y - centre.y), sweep: s[6] };
  });
}
