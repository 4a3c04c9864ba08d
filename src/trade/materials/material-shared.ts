/** Sources and small builders shared by both families of material rows. */

import { type Figure, type FigureRange, figure, type Sourced, type SourceMark, span } from '../source.ts';
import type { ElasticConstants, KienzleSet, MillingStart, Strength } from './material-rows.ts';

/** One catalogue prints kc1.1 and mc for every VDI 3323 group. */
const VDI = 'VDI 3323 group table, Iscar turning catalogue 2017 p. 558';
/** Re-fit of published kc(feed) columns at 45 degrees: the figures are published, the two constants computed from them. */
const CLAMPING = 'log-log fit of kc(feed), Roehm clamping-force standard RN-1391 pp. 43-45';
const START =
  'light-mill start values, within catalogue and handbook ranges (Iscar 2022 p. 92, ATA 2022 p. 1301, HSS charts)';
export const DRILL_TABLES = 'ProtoCutter speed and feed tables';
const RAMPS = 'Harvey Performance, ramp angles';
const CLAMP_FACTOR = 'Roehm clamping-force standard RN-1391 p. 44';

export function elastic(E: number, nu: number, source: string, mark: SourceMark): ElasticConstants {
  return { E, nu, G: E / (2 * (1 + nu)), source, mark };
}

export function strength(
  condition: string,
  yieldStress: number | null,
  tensile: number,
  source: string,
  mark: SourceMark = 'published',
): Strength {
  return { condition, yield: yieldStress, tensile, source, mark };
}

export function vdi(group: number, kc11: number, mc: number): KienzleSet {
  return { name: `VDI 3323 group ${group}`, kc11, mc, source: VDI, mark: 'published' };
}

export function turningFit(row: string, kc11: number, mc: number): KienzleSet {
  return { name: `turning row ${row}`, kc11, mc, source: CLAMPING, mark: 'computed' };
}

export function milling(
  hss: readonly [speed: number, feedPerDiameter: number],
  carbide: readonly [speed: number, feedPerDiameter: number],
): { readonly HSS: MillingStart; readonly carbide: MillingStart } {
  const start = ([speed, feedPerDiameter]: readonly [number, number]): MillingStart => ({
    speed,
    feedPerDiameter,
    source: START,
    mark: 'common practice',
  });
  return { HSS: start(hss), carbide: start(carbide) };
}

/** Drilling and reaming speeds from one published table. */
export function holes(drill: number, reamHss: number, reamCarbide: number): HoleSpeeds {
  const f = (v: number): Figure => figure(v, DRILL_TABLES, 'published');
  return { drillSpeed: f(drill), reamSpeed: { HSS: f(reamHss), carbide: f(reamCarbide) } };
}

/** Drilling speed published, reaming two thirds of it by the rule of the trade; nothing is claimed for carbide reamers. */
export function holesByRule(drill: number, source: string): HoleSpeeds {
  const ream = figure(Math.round((drill * 2) / 3), 'two thirds of the drilling speed', 'common practice');
  return { drillSpeed: figure(drill, source, 'published'), reamSpeed: { HSS: ream, carbide: ream } };
}

export interface HoleSpeeds {
  readonly drillSpeed: Figure;
  readonly reamSpeed: { readonly HSS: Figure; readonly carbide: Figure };
}

export function feedPerDiameter(value: number): Figure {
  return figure(value, 'hand rule 0.01-0.02 D a turn', 'common practice');
}

export const RAMP_HARD: FigureRange = span(1, 3, RAMPS, 'published');
export const RAMP_SOFT: FigureRange = span(3, 10, RAMPS, 'published');

export function threadLength(low: number, high: number): FigureRange {
  return span(low, high, 'depth of full thread by material', 'common practice');
}

export function friction(factor: number): Figure {
  return figure(factor, CLAMP_FACTOR, 'published');
}

export function peck(first: number | null, next: number): Sourced & { first: number | null; next: number } {
  return { first, next, source: 'peck by material', mark: 'common practice' };
}

export function coolant(advice: string): Sourced & { advice: string } {
  return { advice, source: 'trade practice', mark: 'common practice' };
}
