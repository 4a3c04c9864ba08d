/** The free view: the work from any side in parallel projection, drawn only when something changes. Needs WebGL 2. */
import * as THREE from 'three';
import type { FlatSegment, ViewPart, XY } from '../../data/view-data.ts';
import { movesShown } from '../clock.ts';
import { byId, onFrame } from '../elements.ts';
import type { Handled } from '../hands.ts';
import type { PageState, Store } from '../store.ts';
import { edgeLines, type PathLines, pathLines } from './free-lines.ts';
import { clampSolids, cutterSolid, holderSolid } from './free-solids.ts';
import { FieldBox } from './march.ts';
import { layOver } from './overlay.ts';

/** Turned for each pixel dragged, radians. */
const TURN = 0.008;
/** A frame longer than this makes dragging halt and jump. */
const SLOW_MS = 40;
/** Share of the pixels a side while moving, and how long it must rest to be drawn fine. */
const COARSE = 0.5;
const REST_MS = 250;
/** From the front and right, as axonometric drawings are usually laid out. */
const FIRST = { azimuth: -Math.PI / 3, rise: 0.65 };

export class FreeView implements Handled {
  private readonly store: Store;
  private readonly stage = byId('stage');
  private readonly over = byId<SVGSVGElement>('over');
  private readonly renderer: THREE.WebGLRenderer;
  private readonly scene = new THREE.Scene();
  private readonly camera = new THREE.OrthographicCamera();
  private readonly box = new FieldBox();
  private readonly fixed = new THREE.Group();
  private readonly moving = new THREE.Group();
  private lines: PathLines | null = null;
  private clamps: THREE.Object3D | null = null;
  private holder: THREE.Object3D | null = null;
  private keys = { scene: '', path: '', cutter: '' };
  private azimuth = FIRST.azimuth;
  private rise = FIRST.rise;
  private target = new THREE.Vector3();
  private scale = 0;
  private fieldStale = true;
  /** Frames still timed; after them it is known whether drawing here is slow. */
  private timed = 4;
  private slow = false;
  private later: ReturnType<typeof setTimeout> | undefined;
  readonly redraw = onFrame(() => this.draw());

  /** Throws where the browser has no WebGL 2. */
  constructor(store: Store, canvas: HTMLCanvasElement, lost: () => void) {
    this.store = store;
    this.renderer = new THREE.WebGLRenderer({ canvas, antialias: true, alpha: true, preserveDrawingBuffer: true });
    this.renderer.outputColorSpace = THREE.LinearSRGBColorSpace;
    THREE.ColorManagement.enabled = false;
    canvas.addEventListener('webglcontextlost', (event) => {
      event.preventDefault();
      lost();
    });
    this.scene.add(this.box.mesh, this.fixed, this.moving, new THREE.AmbientLight(0xffffff, 2));
    const light = new THREE.DirectionalLight(0xffffff, 1.5);
    light.position.set(0.4, -0.6, 1);
    this.scene.add(light);
    store.listen((_, changed) => {
      if (changed.has('field')) this.fieldStale = true;
      this.redraw();
    });
    new ResizeObserver(() => this.redraw()).observe(this.stage);
  }

  home(): void {
    this.scale = 0;
    this.azimuth = FIRST.azimuth;
    this.rise = FIRST.rise;
    this.redraw();
  }

  zoom(factor: number): void {
    this.scale = Math.max(0.5, Math.min(2000, this.scale * factor));
    this.redraw();
  }

  move(dx: number, dy: number, turning: boolean): void {
    if (turning) {
      this.azimuth -= dx * TURN;
      this.rise = Math.max(-Math.PI / 2, Math.min(Math.PI / 2, this.rise + dy * TURN));
    } else {
      const right = new THREE.Vector3().setFromMatrixColumn(this.camera.matrixWorld, 0);
      const up = new THREE.Vector3().setFromMatrixColumn(this.camera.matrixWorld, 1);
      this.target.addScaledVector(right, -dx / this.scale).addScaledVector(up, dy / this.scale);
    }
    this.redraw();
  }

  /** Where drawing is slow (no graphics hardware), what moves is drawn coarser and made fine once it rests. */
  private draw(atRest = false): void {
    const { state } = this.store;
    const width = this.stage.clientWidth;
    const height = this.stage.clientHeight;
    if (state.view !== 'free' || width === 0 || height === 0) return;
    const coarse = this.slow && !atRest;
    clearTimeout(this.later);
    if (coarse) this.later = setTimeout(() => this.rest(), REST_MS);
    this.renderer.setPixelRatio(coarse ? COARSE : Math.min(2, window.devicePixelRatio || 1));
    this.renderer.setSize(width, height, false);
    this.build(state);
    this.placeCamera(width, height);
    this.placeCutter();
    this.choosePath(state);
    if (this.clamps) this.clamps.visible = state.shown.clamps;
    this.placeField(state);
    this.render();
    this.stage.dataset['drawn'] = state.field?.position.toFixed(3) ?? '';
    const project = (x: number, y: number, z: number): XY => this.project(x, y, z);
    layOver(this.over, this.store, { width, height, scale: this.scale, project, plan: false });
  }

  /** Drawn fine only once the moment asked for is there: a fine frame in between would hold it up. */
  private rest(): void {
    const { wanted, drawn } = this.stage.dataset;
    if (wanted === drawn || !this.store.state.field) this.draw(true);
    else this.later = setTimeout(() => this.rest(), REST_MS);
  }

  private render(): void {
    const begun = performance.now();
    this.renderer.render(this.scene, this.camera);
    if (this.timed <= 0) return;
    this.timed--;
    // Reading a pixel waits for the picture; the first frame also builds the shaders and tells nothing.
    const gl = this.renderer.getContext();
    gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, new Uint8Array(4));
    if (this.timed < 3 && performance.now() - begun > SLOW_MS) this.slow = true;
  }

  /** What stands still, made anew for each set-up and program. */
  private build(state: PageState): void {
    const { data, program } = this.store;
    const setup = program.view.setup;
    const key = String(setup);
    if (key !== this.keys.scene) {
      this.keys.scene = key;
      this.fixed.clear();
      const { stock } = this.store;
      this.clamps = stock && setup === 0 ? clampSolids(data.clamps, stock) : null;
      if (this.clamps) this.fixed.add(this.clamps);
      if (setup === 0 && data.thickness !== null)
        this.fixed.add(edgeLines(data.parts.flatMap(edgesOf), [0.02, -data.thickness - 0.02]));
      this.scale = 0;
    }
    const pathKey = `${state.program} ${[...state.cutters].join()}`;
    if (pathKey !== this.keys.path) {
      this.keys.path = pathKey;
      if (this.lines) {
        this.scene.remove(this.lines.lines);
        this.lines.lines.geometry.dispose();
      }
      this.lines = pathLines(program, state.cutters);
      this.scene.add(this.lines.lines);
    }
  }

  private placeCamera(width: number, height: number): void {
    const { stock } = this.store;
    const min = stock?.min ?? [0, 0, 0];
    const max = stock?.max ?? [50, 50, 0];
    if (this.scale === 0) {
      this.target.set((min[0] + max[0]) / 2, (min[1] + max[1]) / 2, (min[2] + max[2]) / 2);
      const across = Math.hypot(max[0] - min[0], max[1] - min[1]) + 8;
      this.scale = Math.min(width / across, height / (0.75 * across));
    }
    const c = this.camera;
    const [w, h] = [width / 2 / this.scale, height / 2 / this.scale];
    Object.assign(c, { left: -w, right: w, top: h, bottom: -h, near: 1, far: 2000 });
    const flat = Math.cos(this.rise);
    const away = new THREE.Vector3(Math.cos(this.azimuth) * flat, Math.sin(this.azimuth) * flat, Math.sin(this.rise));
    c.up.set(0, 0, 1);
    // Straight from above or below, the top of the sheet is away from the person.
    if (flat < 1e-3) c.up.set(-Math.cos(this.azimuth), -Math.sin(this.azimuth), 0).multiplyScalar(Math.sign(this.rise));
    c.position.copy(this.target).addScaledVector(away, 1000);
    c.lookAt(this.target);
    c.updateProjectionMatrix();
    c.updateMatrixWorld();
  }

  private placeCutter(): void {
    const { moment, cutter: c } = this.store;
    const key = String(c?.number);
    if (key !== this.keys.cutter) {
      this.keys.cutter = key;
      this.moving.clear();
      this.holder = c ? holderSolid(c) : null;
      if (c) this.moving.add(cutterSolid(c), this.holder!);
    }
    if (this.holder) this.holder.visible = this.store.state.shown.holder;
    this.moving.position.set(...moment.at);
  }

  private choosePath(state: PageState): void {
    const { lines } = this;
    if (!lines) return;
    const { program, moment } = this.store;
    const [from, to] = movesShown(program, moment.block, state.shown.wholePath);
    const first = lines.firsts[from]!;
    lines.lines.geometry.setDrawRange(first, lines.firsts[to]! - first);
    lines.uniforms.uScale.value = this.scale;
    lines.uniforms.uPath.value = state.shown.path;
    lines.uniforms.uRapids.value = state.shown.rapids;
  }

  private placeField(state: PageState): void {
    const { stock } = this.store;
    this.box.mesh.visible = state.field !== null && stock !== null && state.shown.stock;
    if (!state.field || !stock) return;
    if (this.fieldStale) this.box.show(state.field, stock.max[2]);
    this.fieldStale = false;
    this.box.aim(this.camera, state.shown.marks);
  }

  private project(x: number, y: number, z: number): XY {
    const v = new THREE.Vector3(x, y, z).project(this.camera);
    return [((v.x + 1) / 2) * this.stage.clientWidth, ((1 - v.y) / 2) * this.stage.clientHeight];
  }
}

function edgesOf(part: ViewPart): (readonly FlatSegment[])[] {
  const holes = part.holes.map((h): readonly FlatSegment[] => {
    const x = h.at[0] + h.diameter / 2;
    return [[x, h.at[1], x, h.at[1], h.at[0], h.at[1], 2 * Math.PI]];
  });
  return [part.outline, ...part.pockets.flatMap((p) => [p.outline, ...p.islands]), ...holes];
}
