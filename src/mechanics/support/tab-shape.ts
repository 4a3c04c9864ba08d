/** The true plan of a tab: what round cutters leave between part and frame when they lift over it. */
import { arccosine, arcsine, cosine, sine } from '../../base/angles.ts';
import type { Mm, Rad } from '../../base/units.ts';
import { eachGauss } from '../math/quadrature.ts';

export interface TabShape {
  /** Least width along the edge. */
  readonly waist: Mm;
  readonly height: Mm;
  /** Radius of the cutter that runs along the part. */
  readonly cutterRadius: Mm;
  /** From the part's edge to the frame; at least the cutter's diameter, more where the slot was widened outwards. */
  readonly slotWidth: Mm;
  /** Radius left at the frame: that of the roughing cutter; 0 is a square corner. As `cutterRadius` unless given. */
  readonly frameRadius?: Mm;
}

/** Width at s from the part's edge: waist + 2 (r - sqrt(r^2 - d^2)) in a flare, d from where the flare begins. */
export function widthAt(tab: TabShape, s: Mm): Mm {
  return tab.waist + 2 * flareAt(tab, s).rise;
}

/** Slope of the tab's side at s, radians from the tab's own direction: 0 at the waist, 90 degrees where it meets the edge. */
export function slopeAt(tab: TabShape, s: Mm): Rad {
  const { radius, reach } = flareAt(tab, s);
  return radius > 0 ? arcsine(Math.min(1, reach / radius)) : 0;
}

/**
 * Places and weights for integrals over the tab's length. In a flare s = r (1 - cos t), which takes out the square-root
 * steepness at the edge; 8-point Gauss on `panels` pieces of every stretch.
 */
export function eachStation(tab: TabShape, panels: number, use: (s: Mm, weight: Mm) => void): void {
  const r1 = tab.cutterRadius;
  const r2 = frameRadius(tab);
  const length = tab.slotWidth;
  // Rough and finish radii may together be longer than the slot: their flares then meet where they are equally wide.
  const from = Math.min(r1, length);
  const to = Math.max(from, length - r2);
  stretch(0, arccosine(1 - from / Math.max(r1, 1e-12)), panels, (t, weight) => {
    if (r1 > 0) use(r1 * (1 - cosine(t)), weight * r1 * sine(t));
  });
  if (to > from) stretch(from, to, panels, use);
  stretch(0, r2 > 0 ? arccosine(1 - Math.min(1, (length - to) / r2)) : 0, panels, (t, weight) => {
    if (r2 > 0) use(length - r2 * (1 - cosine(t)), weight * r2 * sine(t));
  });
}

function stretch(lo: number, hi: number, panels: number, use: (x: number, weight: number) => void): void {
  const width = (hi - lo) / panels;
  if (width <= 0) return;
  for (let i = 0; i < panels; i++) eachGauss(lo + i * width, lo + (i + 1) * width, use);
}

function frameRadius(tab: TabShape): Mm {
  return tab.frameRadius ?? tab.cutterRadius;
}

/** One side's rise over the waist. Where both cutters have been, the deeper cut counts (the smaller rise). */
function flareAt(tab: TabShape, s: Mm): { readonly rise: Mm; readonly radius: Mm; readonly reach: Mm } {
  const part = rise(tab.cutterRadius, tab.cutterRadius - s);
  const frame = rise(frameRadius(tab), s - (tab.slotWidth - frameRadius(tab)));
  if (part.reach > 0 && frame.reach > 0) return part.rise < frame.rise ? part : frame;
  return part.reach > 0 ? part : frame;
}

function rise(radius: Mm, reach: Mm): { readonly rise: Mm; readonly radius: Mm; readonly reach: Mm } {
  if (reach <= 0 || radius <= 0) return { rise: 0, radius, reach: 0 };
  return { rise: radius - Math.sqrt(Math.max(0, radius * radius - reach * reach)), radius, reach };
}
