/** Which cells of a field belong to which part, and how high each part's own stock may stand there. */
import type { Mm } from '../../base/units.ts';
import { dist } from '../../geometry/measure/point.ts';
import { nearestOn } from '../../geometry/measure/segment.ts';
import type { Point } from '../../geometry/types.ts';
import { centreX, centreY, type Field } from '../../stock/field.ts';
import type { Edge } from './pieces.ts';
import type { WantedPart, WantedParts } from './wanted.ts';

export interface Labels {
  /** Part number from 1 where the cell is solid part (no hole, no through pocket), at least a cell's diagonal inside; 0 elsewhere. */
  readonly part: Int16Array;
  /** Wanted height over the same cells; NaN elsewhere. */
  readonly wanted: Float32Array;
}

export function labelCells(f: Field, wanted: WantedParts): Labels {
  const part = new Int16Array(f.cols * f.rows);
  const heights = new Float32Array(f.cols * f.rows).fill(NaN);
  const margin = f.cell * Math.SQRT2;
  for (const p of wanted.parts) {
    eachCell(f, p, (k, at) => {
      const deep = depthIn(p.edge, at, Math.max(margin, wanted.chamfer + f.cell));
      if (deep === 0) return;
      const z = heightAt(p, at, margin, wanted);
      if (z === undefined) return;
      part[k] = p.index + 1;
      heights[k] = z;
    });
  }
  return { part, wanted: heights };
}

function eachCell(f: Field, p: WantedPart, visit: (k: number, at: Point) => void): void {
  const { box } = p.edge;
  const r0 = Math.max(0, Math.floor((box.minY - f.y0) / f.cell));
  const r1 = Math.min(f.rows - 1, Math.ceil((box.maxY - f.y0) / f.cell));
  const c0 = Math.max(0, Math.floor((box.minX - f.x0) / f.cell));
  const c1 = Math.min(f.cols - 1, Math.ceil((box.maxX - f.x0) / f.cell));
  for (let row = r0; row <= r1; row++) {
    for (let col = c0; col <= c1; col++) visit(row * f.cols + col, { x: centreX(f, col), y: centreY(f, row) });
  }
}

/** 1 when the point lies inside an edge by a margin, 0 when not. */
function depthIn(edge: Edge, p: Point, margin: Mm): 0 | 1 {
  const { box } = edge;
  if (p.x < box.minX + margin || p.x > box.maxX - margin || p.y < box.minY + margin || p.y > box.maxY - margin)
    return 0;
  if (!edge.inside(p)) return 0;
  return nearEdge(edge, p, margin) ? 0 : 1;
}

/** Outside the box of an edge by more than a margin: neither within the edge nor near it. */
function isOff({ box }: Edge, p: Point, margin: Mm): boolean {
  return p.x < box.minX - margin || p.x > box.maxX + margin || p.y < box.minY - margin || p.y > box.maxY + margin;
}

function nearEdge(edge: Edge, p: Point, margin: Mm): boolean {
  return edge.pieces.some((s, i) => {
    const b = edge.boxes[i]!;
    if (p.x < b.minX - margin || p.x > b.maxX + margin || p.y < b.minY - margin || p.y > b.maxY + margin) return false;
    return nearestOn(s, p).distance < margin;
  });
}

/** Height wanted at a point of a part; undefined in holes, through pockets and too near to any wall to say. */
function heightAt(p: WantedPart, at: Point, margin: Mm, wanted: WantedParts): Mm | undefined {
  for (const h of p.holes)
    if (dist(at, h.at) < Math.max(h.hole.diameter / 2, h.allowed(0)) + margin + wanted.chamfer) return undefined;
  let z: Mm = 0;
  for (const pocket of p.pockets) {
    if (isOff(pocket.outer, at, margin)) continue;
    if (nearEdge(pocket.outer, at, margin)) return undefined;
    if (!pocket.outer.inside(at)) continue;
    if (pocket.islands.some((e) => nearEdge(e, at, margin))) return undefined;
    if (pocket.islands.some((e) => e.inside(at))) continue;
    if (pocket.through) return undefined;
    z = Math.min(z, pocket.bottom);
  }
  return z;
}
