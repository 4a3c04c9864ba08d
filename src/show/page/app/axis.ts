/** The time axis: slider, steps, running at a rate, and the two curves under it. */
import { short } from '../../../base/text.ts';
import { endOfBlock, operationAt, stepBlock } from './clock.ts';
import { CURVE_HEIGHT, curveSpecs, dips, drawCurve } from './curves.ts';
import { byId, onFrame, svg } from './elements.ts';
import { BLACK, NARROW } from './ink.ts';
import { clockText } from './moment-words.ts';
import type { Store } from './store.ts';

export class Axis {
  private readonly store: Store;
  private readonly slider = byId<HTMLInputElement>('time');
  private readonly curves = byId<SVGSVGElement>('curves');
  private drawnKey = '';
  private width = 0;
  private readonly redraw = onFrame(() => this.draw());

  constructor(store: Store) {
    this.store = store;
    this.slider.addEventListener('input', () => {
      store.goTo((Number(this.slider.value) / Number(this.slider.max)) * store.program.total, { running: false });
    });
    this.slider.addEventListener('keydown', (event) => this.key(event));
    for (const [id, act] of Object.entries(this.actions)) byId(id).addEventListener('click', act);
    byId<HTMLSelectElement>('rate').addEventListener('change', (event) =>
      store.set({ rate: Number((event.target as HTMLSelectElement).value) }),
    );
    this.curves.addEventListener('click', (event) => this.clickCurve(event));
    store.listen((_, changed) => {
      if (changed.has('running')) this.run();
      if (changed.has('program')) this.drawnKey = '';
      if (['time', 'program', 'running', 'fieldDone'].some((k) => changed.has(k as 'time'))) this.redraw();
    });
    new ResizeObserver(() => this.redraw()).observe(this.curves);
    this.redraw();
  }

  private readonly actions: Readonly<Record<string, () => void>> = {
    'to-start': () => this.go(0),
    'operation-before': () => this.stepOperation(-1),
    'block-before': () => this.step(-1),
    run: () => this.toggle(),
    'block-after': () => this.step(1),
    'operation-after': () => this.stepOperation(1),
    'to-end': () => this.go(this.store.program.total),
    'worst-place': () => this.nextDip(),
  };

  go(time: number): void {
    this.store.goTo(time, { running: false });
  }

  step(by: 1 | -1): void {
    this.go(stepBlock(this.store.program, this.store.state.time, by));
  }

  /** To the end of the operation, or to its beginning when going back. */
  stepOperation(by: 1 | -1): void {
    const { program, moment, state } = this.store;
    const { operations } = program.view;
    const i = operationAt(program.view, moment.block);
    const times = operations.map((o) => endOfBlock(program, o.to));
    const next = by > 0 ? times.find((t) => t > state.time + 1e-6) : times.filter((t) => t < state.time - 1e-6).at(-1);
    this.go(next ?? (by > 0 ? program.total : i >= 0 ? 0 : 0));
  }

  toggle(): void {
    const { state, program } = this.store;
    const restart = !state.running && state.time >= program.total;
    this.store.goTo(restart ? 0 : state.time, { running: !state.running });
  }

  private dipAt = -1;

  /** Walks through the worst places, worst first. */
  nextDip(): void {
    const { course } = this.store.program;
    if (!course) return;
    const list = dips(course, this.store.data.limits);
    if (list.length === 0) return;
    this.dipAt = (this.dipAt + 1) % list.length;
    this.showRow(list[this.dipAt]!, `worst place ${this.dipAt + 1} of ${list.length}`);
  }

  private showRow(row: number, name: string): void {
    const course = this.store.program.course!;
    const time = endOfBlock(this.store.program, course.block[row]!);
    this.store.goTo(time - course.seconds[row]! / 2, { running: false });
    const { at } = this.store.moment;
    const margin = course.margin[row]!;
    const movement = course.movement[row]!;
    const figures = [
      ...(Number.isNaN(margin) ? [] : [`margin ${short(margin, 2)}`]),
      ...(Number.isNaN(movement) ? [] : [`edge moves ${short(movement, 4)} mm`]),
    ];
    const words = `${name}: block ${course.block[row]}, ${figures.join(', ') || 'nothing is cut'}`;
    this.store.set({ spot: { at: [at[0], at[1]], label: `block ${course.block[row]}` } });
    byId('axis-words').textContent = words;
  }

  private key(event: KeyboardEvent): void {
    const act = {
      ArrowRight: () => this.step(1),
      ArrowUp: () => this.step(1),
      ArrowLeft: () => this.step(-1),
      ArrowDown: () => this.step(-1),
      PageUp: () => this.stepOperation(1),
      PageDown: () => this.stepOperation(-1),
      Home: () => this.go(0),
      End: () => this.go(this.store.program.total),
    }[event.key];
    if (!act) return;
    event.preventDefault();
    event.stopPropagation();
    act();
  }

  private run(): void {
    let last = performance.now();
    const tick = (now: number): void => {
      const { state, program } = this.store;
      if (!state.running) return;
      const time = state.time + ((now - last) / 1000) * state.rate;
      last = now;
      this.store.goTo(time, { running: time < program.total });
      requestAnimationFrame(tick);
    };
    if (this.store.state.running) requestAnimationFrame(tick);
  }

  /** A click goes to the worst block within a few pixels of it: dips are narrow. */
  private clickCurve(event: MouseEvent): void {
    const { program } = this.store;
    const box = this.curves.getBoundingClientRect();
    const per = program.total / Math.max(1, box.width);
    const time = (event.clientX - box.left) * per;
    const { course } = program;
    if (!course) {
      this.go(time);
      return;
    }
    const lower = event.clientY - box.top > box.height / 2;
    const values = lower ? course.movement : course.margin;
    let best = -1;
    for (let i = 0; i < course.count; i++) {
      if (course.start[i]! > time + NEAR_PX * per || course.start[i]! + course.seconds[i]! < time - NEAR_PX * per)
        continue;
      if (Number.isNaN(values[i]!)) continue;
      if (best < 0 || (lower ? values[i]! > values[best]! : values[i]! < values[best]!)) best = i;
    }
    if (best < 0) this.go(time);
    else this.showRow(best, 'chosen on the curve');
  }

  private draw(): void {
    const { state, program } = this.store;
    this.slider.value = String(Math.round((state.time / Math.max(1e-9, program.total)) * Number(this.slider.max)));
    this.slider.setAttribute('aria-valuetext', `${clockText(state.time)}, block ${this.store.moment.block}`);
    byId('run').textContent = state.running ? 'Halt' : 'Run';
    byId('clock').textContent = `${clockText(state.time)} of ${clockText(program.total)}`;
    byId('field-progress').textContent = progressWords(this.store);
    this.drawCurves();
  }

  private drawCurves(): void {
    const width = this.curves.clientWidth;
    if (width === 0) return;
    const { course, total } = this.store.program;
    const key = `${width} ${this.store.state.program}`;
    if (key !== this.drawnKey) {
      this.drawnKey = key;
      this.width = width;
      byId('no-course').hidden = course !== null;
      byId('curve-box').hidden = course === null;
      byId<HTMLButtonElement>('worst-place').disabled = course === null;
      this.curves.replaceChildren(...(course === null ? [] : this.curveGroups(width)));
    }
    if (course === null) return;
    const x = (this.store.state.time / Math.max(1e-9, total)) * this.width;
    const now =
      this.curves.querySelector('#now') ??
      this.curves.appendChild(
        svg('line', { id: 'now', y1: 0, y2: 2 * CURVE_HEIGHT, stroke: BLACK, 'stroke-width': NARROW * 1.5 }),
      );
    now.setAttribute('x1', String(x));
    now.setAttribute('x2', String(x));
  }

  private curveGroups(width: number): SVGElement[] {
    const course = this.store.program.course!;
    return curveSpecs(course, this.store.data.limits).map((spec, i) => {
      const group = svg('g', { transform: `translate(0 ${i * CURVE_HEIGHT})` });
      group.append(...drawCurve(spec, course, this.store.program.total, width));
      return group;
    });
  }
}

const NEAR_PX = 6;

function progressWords({ data, program, state }: Store): string {
  if ((data.setups[program.view.setup]?.stock ?? null) === null)
    return 'The stock is not stated, so its removal is not shown.';
  if (state.fieldDone < 1) return `Working out the stock: ${Math.floor(state.fieldDone * 100)} %`;
  return '';
}
