/** The plan's window on the work: centre and scale; X right, Y up the sheet. */
import type { Box } from '../../../../geometry/types.ts';
import type { XY } from '../../data/view-data.ts';

export interface PlanWindow {
  readonly width: number;
  readonly height: number;
  readonly cx: number;
  readonly cy: number;
  /** CSS pixels per millimetre. */
  readonly scale: number;
}

/** White space round the drawing, CSS pixels. */
const MARGIN = 34;

export function fitted(box: Box, width: number, height: number): PlanWindow {
  const w = Math.max(1, box.maxX - box.minX);
  const h = Math.max(1, box.maxY - box.minY);
  const scale = Math.max(0.1, Math.min((width - 2 * MARGIN) / w, (height - 2 * MARGIN) / h));
  return { width, height, cx: (box.minX + box.maxX) / 2, cy: (box.minY + box.maxY) / 2, scale };
}

export function toScreen(w: PlanWindow, x: number, y: number): XY {
  return [w.width / 2 + (x - w.cx) * w.scale, w.height / 2 - (y - w.cy) * w.scale];
}

export function toWork(w: PlanWindow, px: number, py: number): XY {
  return [w.cx + (px - w.width / 2) / w.scale, w.cy - (py - w.height / 2) / w.scale];
}

/** Zoom that keeps the place under a pixel where it is. */
export function zoomed(w: PlanWindow, factor: number, px = w.width / 2, py = w.height / 2): PlanWindow {
  const scale = Math.max(0.5, Math.min(2000, w.scale * factor));
  const [x, y] = toWork(w, px, py);
  return { ...w, scale, cx: x - (px - w.width / 2) / scale, cy: y + (py - w.height / 2) / scale };
}

export function moved(w: PlanWindow, dx: number, dy: number): PlanWindow {
  return { ...w, cx: w.cx - dx / w.scale, cy: w.cy + dy / w.scale };
}
