/** The field as a picture, a pixel a cell: tint by depth, hatch where gouged, dots where uncut. */
import { GOUGED, UNCUT } from '../../worker/marks.ts';
import type { FieldNow } from '../store.ts';
import { CUT_DEEP, CUT_SHALLOW, GOUGE, GOUGE_LINE, STOCK_TOP, THROUGH, UNCUT_DOT, UNCUT_GROUND } from './ink.ts';

const STEPS = 64;

/** Steps of tint from the shallowest cut to the deepest. */
const TINTS = Array.from({ length: STEPS }, (_, i) =>
  word(CUT_SHALLOW.map((c, k) => Math.round(c + ((CUT_DEEP[k]! - c) * i) / (STEPS - 1))) as unknown as Rgb),
);

type Rgb = readonly [number, number, number];

export class FieldPicture {
  readonly canvas = document.createElement('canvas');
  private image: ImageData | null = null;

  draw(field: FieldNow, top: number, marksShown: boolean): void {
    const { cols, rows, bottom } = field.shape;
    if (this.canvas.width !== cols || this.canvas.height !== rows) {
      this.canvas.width = cols;
      this.canvas.height = rows;
      this.image = null;
    }
    const context = this.canvas.getContext('2d', { willReadFrequently: true })!;
    this.image ??= context.createImageData(cols, rows);
    const pixels = new Uint32Array(this.image.data.buffer);
    paint(field, top, bottom, marksShown, pixels);
    context.putImageData(this.image, 0, 0);
  }
}

function paint(field: FieldNow, top: number, bottom: number, marksShown: boolean, pixels: Uint32Array): void {
  const { cols, rows } = field.shape;
  const { heights, marks } = field;
  const stock = word(STOCK_TOP);
  const through = word(THROUGH);
  const scale = (STEPS - 1) / Math.max(1e-6, top - bottom);
  for (let r = 0; r < rows; r++) {
    let out = (rows - 1 - r) * cols;
    for (let k = r * cols, end = k + cols; k < end; k++, out++) {
      const h = heights[k]!;
      const mark = marksShown ? marks[k]! : 0;
      if (mark !== 0) pixels[out] = marked(mark, k - r * cols, r);
      else if (h >= top - 1e-4) pixels[out] = stock;
      else if (h <= bottom + 1e-4) pixels[out] = through;
      else pixels[out] = TINTS[((top - h) * scale) | 0]!;
    }
  }
}

function marked(mark: number, c: number, r: number): number {
  if (mark === GOUGED) return (c + r) % 6 < 1 ? LINE : GROUND;
  if (mark === UNCUT) return c % 4 < 2 && r % 4 < 2 ? DOT : UNCUT_FILL;
  return 0;
}

const GROUND = word(GOUGE);
const LINE = word(GOUGE_LINE);
const DOT = word(UNCUT_DOT);
const UNCUT_FILL = word(UNCUT_GROUND);

/** Little-endian RGBA, as every browser's platform has it. */
function word([r, g, b]: Rgb): number {
  return ((255 << 24) | (b << 16) | (g << 8) | r) >>> 0;
}
