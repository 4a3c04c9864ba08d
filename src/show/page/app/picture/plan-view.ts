/** The plan: field, path and drawing over each other, seen from above. Needs no WebGL. */
import type { Box } from '../../../../geometry/types.ts';
import type { XY } from '../../data/view-data.ts';
import { movesShown } from '../clock.ts';
import { byId, onFrame } from '../elements.ts';
import type { PageState, Store } from '../store.ts';
import { fitted, moved, type PlanWindow, toScreen, toWork, zoomed } from './camera.ts';
import { FieldPicture } from './field-picture.ts';
import { layOver } from './overlay.ts';
import { drawPath } from './path-picture.ts';
import { workDrawing } from './plan-drawing.ts';

export class PlanView {
  private readonly store: Store;
  private readonly stage = byId('stage');
  private readonly fieldCanvas = byId<HTMLCanvasElement>('plan-field');
  private readonly pathCanvas = byId<HTMLCanvasElement>('plan-path');
  private readonly drawing = byId<SVGSVGElement>('plan-drawing');
  private readonly over = byId<SVGSVGElement>('over');
  private readonly picture = new FieldPicture();
  private window: PlanWindow;
  private pathKey = '';
  private drawingKey = '';
  readonly redraw = onFrame(() => this.draw());

  constructor(store: Store) {
    this.store = store;
    this.window = this.fit();
    store.listen((state, changed) => {
      if (changed.has('program')) this.window = this.fit();
      if (changed.has('spot') && state.spot) this.bringIn(state.spot.at);
      if (changed.has('field') || changed.has('shown')) this.paintField(state);
      this.redraw();
    });
    new ResizeObserver(() => {
      const { clientWidth: width, clientHeight: height } = this.stage;
      if (width === 0 || height === 0) return;
      const { cx, cy, scale } = this.window;
      const grown = Math.min(width / this.window.width, height / this.window.height);
      this.window = { width, height, cx, cy, scale: scale * grown };
      this.redraw();
    }).observe(this.stage);
    this.redraw();
  }

  home(): void {
    this.window = this.fit();
    this.redraw();
  }

  zoom(factor: number, px?: number, py?: number): void {
    this.window = zoomed(this.window, factor, px, py);
    this.redraw();
  }

  move(dx: number, dy: number): void {
    this.window = moved(this.window, dx, dy);
    this.redraw();
  }

  workAt(px: number, py: number): XY {
    return toWork(this.window, px, py);
  }

  screenOf(x: number, y: number): XY {
    return toScreen(this.window, x, y);
  }

  get scale(): number {
    return this.window.scale;
  }

  private fit(): PlanWindow {
    const width = this.stage.clientWidth || 800;
    const height = this.stage.clientHeight || 500;
    return fitted(this.extent(), width, height);
  }

  /** The stock, or what the cutter's centre goes over. */
  private extent(): Box {
    const { stock, program } = this.store;
    if (stock) return { minX: stock.min[0], minY: stock.min[1], maxX: stock.max[0], maxY: stock.max[1] };
    const { x, y } = program.moves;
    const least = (v: Float64Array) => v.reduce((a, b) => Math.min(a, b));
    const most = (v: Float64Array) => v.reduce((a, b) => Math.max(a, b));
    return { minX: least(x), minY: least(y), maxX: most(x), maxY: most(y) };
  }

  /** A place outside the window is brought to its middle. */
  private bringIn(at: readonly [number, number]): void {
    const [px, py] = this.screenOf(...at);
    const { width, height } = this.window;
    if (px < 20 || py < 20 || px > width - 20 || py > height - 20)
      this.window = { ...this.window, cx: at[0], cy: at[1] };
  }

  private paintField(state: PageState): void {
    const { stock } = this.store;
    if (state.field && stock) this.picture.draw(state.field, stock.max[2], state.shown.marks);
  }

  draw(): void {
    const { state } = this.store;
    if (state.view !== 'plan') return;
    this.placeField(state);
    this.drawPathIfChanged(state);
    this.drawWorkIfChanged(state);
    this.stage.dataset['drawn'] = state.field?.position.toFixed(3) ?? '';
    layOver(this.over, this.store, { ...this.window, project: (x, y) => this.screenOf(x, y), plan: true });
  }

  private placeField(state: PageState): void {
    const context = sized(this.fieldCanvas, this.window);
    const f = state.field;
    if (!f || !state.shown.stock) return;
    const { cols, rows, cell, x0, y0 } = f.shape;
    const [left, top] = this.screenOf(x0, y0 + rows * cell);
    const pixels = cell * this.window.scale;
    context.imageSmoothingEnabled = pixels < 2;
    context.drawImage(this.picture.canvas, left, top, cols * pixels, rows * pixels);
  }

  private drawPathIfChanged(state: PageState): void {
    const { program } = this.store;
    const [from, to] = movesShown(program, this.store.moment.block, state.shown.wholePath);
    const key = JSON.stringify([this.window, state.program, from, to, state.shown, [...state.cutters]]);
    if (key === this.pathKey) return;
    this.pathKey = key;
    const context = sized(this.pathCanvas, this.window);
    drawPath(context, this.window, { program, from, to, ...state.shown, cutters: state.cutters });
  }

  private drawWorkIfChanged(state: PageState): void {
    const { width, height, cx, cy, scale } = this.window;
    const box = [cx - width / 2 / scale, -cy - height / 2 / scale, width / scale, height / scale];
    this.drawing.setAttribute('viewBox', box.map((v) => v.toFixed(5)).join(' '));
    const setup = this.store.program.view.setup;
    const key = `${setup} ${state.shown.clamps}`;
    if (key === this.drawingKey) return;
    this.drawingKey = key;
    const { data } = this.store;
    byId<SVGGElement>('plan-work').replaceChildren(workDrawing(data, setup, state.shown.clamps));
  }
}

/** Canvas at the screen's own pixels, cleared, with CSS pixels as units. */
function sized(canvas: HTMLCanvasElement, w: PlanWindow): CanvasRenderingContext2D {
  const ratio = window.devicePixelRatio || 1;
  const [width, height] = [Math.round(w.width * ratio), Math.round(w.height * ratio)];
  if (canvas.width !== width) canvas.width = width;
  if (canvas.height !== height) canvas.height = height;
  const context = canvas.getContext('2d', { willReadFrequently: true })!;
  context.setTransform(ratio, 0, 0, ratio, 0, 0);
  context.clearRect(0, 0, w.width, w.height);
  return context;
}
