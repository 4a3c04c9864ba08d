/**
 * What a drawing holds, whatever its format: closed outlines of lines and arcs, open ends, defects and what was left out.
 * All lengths in millimetres, X right, Y up.
 */
import type { Problem } from '../../base/problem.ts';
import type { Mm } from '../../base/units.ts';
import type { Box, Chain, Loop, Point } from '../../geometry/types.ts';

export type DrawingFormat = 'dxf' | 'svg';

export interface DrawingOptions {
  readonly format: DrawingFormat;
  /** Units of a drawing that states none. */
  readonly units: 'mm' | 'inch';
  /** Read this layer (DXF) only. */
  readonly layer?: string;
  /** Read elements with this id, or inside a group with it (SVG), only. */
  readonly id?: string;
  /** Widest gap between ends that is closed; default DRAWING_JOIN. */
  readonly join?: Mm;
  /** Largest error of arcs and lines fitted to other curves; default CURVE_FIT. */
  readonly fit?: Mm;
  /** Name put into the place of every problem. */
  readonly file?: string;
}

export interface DrawingUnits {
  readonly name: string;
  readonly mmPerUnit: number;
  /** `drawing`: the drawing states them; `caller`: it does not, and the units of ReadOptions apply. */
  readonly from: 'drawing' | 'caller';
}

/** Where a stretch of outline came from. */
export interface Source {
  /** Entity (DXF) or element (SVG) type as the format spells it. */
  readonly type: string;
  /** Line of the file, from 1. */
  readonly line: number;
  /** DXF layer; empty for SVG. */
  readonly layer: string;
  /** SVG: ids of the element and of the groups around it, innermost first. DXF: the entity's handle, if any. */
  readonly ids: readonly string[];
  /** DXF: names of the blocks it was inserted through, outermost first. */
  readonly blocks: readonly string[];
}

export interface DrawingLoop {
  /** Counter-clockwise, whatever its depth. */
  readonly loop: Loop;
  readonly layer: string;
  readonly ids: readonly string[];
  readonly sources: readonly Source[];
  /** Number of other outlines of the same layer around it: 0 is an outer edge, 1 an opening, 2 a part inside an opening. */
  readonly depth: number;
  /** Largest error of arcs and lines fitted to other curves; 0 where the drawing itself has lines and arcs. */
  readonly fitError: Mm;
  readonly box: Box;
  /** Set when the outline is one whole circle. */
  readonly circle: { readonly centre: Point; readonly diameter: Mm } | null;
}

export interface OpenChain {
  readonly chain: Chain;
  readonly layer: string;
  readonly ids: readonly string[];
  readonly sources: readonly Source[];
  readonly from: Point;
  readonly to: Point;
  /** The narrowest gap at either end: to the other end of this chain, or of another open one. */
  readonly gap: { readonly a: Point; readonly b: Point; readonly size: Mm } | null;
}

export interface Layer {
  readonly name: string;
  /** Off or frozen: its entities are not read unless the layer is asked for by name. */
  readonly hidden: boolean;
  /** Lines, arcs and curves read from it. */
  readonly pieces: number;
}

export interface Drawing {
  readonly format: DrawingFormat;
  readonly units: DrawingUnits;
  /** Every closed outline, whole circles too, largest area first. */
  readonly loops: readonly DrawingLoop[];
  /** The whole circles among `loops`. */
  readonly circles: readonly DrawingLoop[];
  readonly open: readonly OpenChain[];
  readonly layers: readonly Layer[];
  /** Things that make an outline doubtful: gaps, junctions, crossings. Each has a place. */
  readonly defects: readonly Problem[];
  /** Texts and dimensions left out, by type. */
  readonly ignored: Readonly<Record<string, number>>;
  /** Types this reader does not know or does not read, by type. */
  readonly unknown: Readonly<Record<string, number>>;
  /** What was done to the drawing: joined, removed, merged, turned round. Each has a place. */
  readonly notes: readonly Problem[];
}
