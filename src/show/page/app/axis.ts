/** The time axis: slider, steps, running at a rate, and what is said of a place chosen on the curves. */
import { short } from '../../../base/text.ts';
import { endOfBlock, stepBlock, stepMove } from './clock.ts';
import { CurvePanel } from './curve-panel.ts';
import { dips } from './curves.ts';
import { byId, onFrame } from './elements.ts';
import { clockText } from './moment-words.ts';
import type { Store } from './store.ts';
import { supportWords } from './support-words.ts';

export class TimeAxis {
  private readonly store: Store;
  private readonly slider = byId<HTMLInputElement>('time');
  private readonly curves: CurvePanel;
  /** What is said of the place chosen; empty once the time moves on. */
  private chosen = '';
  private dipAt = -1;
  private readonly redraw = onFrame(() => this.draw());

  constructor(store: Store) {
    this.store = store;
    this.curves = new CurvePanel(store, (at) => {
      if ('row' in at) this.showRow(at.row, 'Chosen on the curve');
      else this.go(at.time);
    });
    this.curves.watch(this.redraw);
    this.slider.addEventListener('input', () => {
      store.goTo((Number(this.slider.value) / Number(this.slider.max)) * store.program.total, { running: false });
    });
    this.slider.addEventListener('keydown', (event) => this.key(event));
    for (const [id, act] of Object.entries(this.actions)) byId(id).addEventListener('click', act);
    byId<HTMLSelectElement>('rate').addEventListener('change', (event) =>
      store.set({ rate: Number((event.target as HTMLSelectElement).value) }),
    );
    store.listen((state, changed) => {
      if (changed.has('running')) this.run();
      if (changed.has('program')) this.dipAt = -1;
      if (changed.has('spot') && state.spot === null) this.chosen = '';
      if (['time', 'program', 'running', 'fieldDone', 'spot', 'field'].some((k) => changed.has(k as 'time')))
        this.redraw();
    });
    this.redraw();
  }

  private readonly actions: Readonly<Record<string, () => void>> = {
    'to-start': () => this.go(0),
    'operation-before': () => this.stepOperation(-1),
    'block-before': () => this.step(-1),
    'move-before': () => this.stepMove(-1),
    run: () => this.toggle(),
    'move-after': () => this.stepMove(1),
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

  /** A cycle is one block of many moves: this goes through them one by one. */
  stepMove(by: 1 | -1): void {
    this.go(stepMove(this.store.program, this.store.state.time, by));
  }

  /** To the end of the operation, or to the end of the one before. */
  stepOperation(by: 1 | -1): void {
    const { program, state } = this.store;
    const times = program.view.operations.map((o) => endOfBlock(program, o.to));
    const next = by > 0 ? times.find((t) => t > state.time + 1e-6) : times.filter((t) => t < state.time - 1e-6).at(-1);
    this.go(next ?? (by > 0 ? program.total : 0));
  }

  toggle(): void {
    const { state, program } = this.store;
    const restart = !state.running && state.time >= program.total;
    this.store.goTo(restart ? 0 : state.time, { running: !state.running });
  }

  /** Walks through the worst places, worst first. */
  nextDip(): void {
    const { course } = this.store.program;
    if (!course) return;
    const list = dips(course);
    if (list.length === 0) return;
    this.dipAt = (this.dipAt + 1) % list.length;
    this.showRow(list[this.dipAt]!, `Worst place ${this.dipAt + 1} of ${list.length}`);
  }

  private showRow(row: number, name: string): void {
    const course = this.store.program.course!;
    const time = endOfBlock(this.store.program, course.block[row]!);
    this.store.goTo(time - course.seconds[row]! / 2, { running: false });
    const { at } = this.store.moment;
    const [margin, movement] = [course.margin[row]!, course.movement[row]!];
    const wanted = [short(course.wantedMargin[row]!, 2), short(course.wantedMovement[row]!, 3)];
    const figures = [
      Number.isNaN(margin) ? '' : `strength ${short(margin, 2)} times the load (wanted ${wanted[0]})`,
      Number.isNaN(movement) ? '' : `the edge moves ${short(movement, 4)} mm (wanted ${wanted[1]} at most)`,
    ].filter((f) => f !== '');
    const place = `X ${short(at[0], 1)} Y ${short(at[1], 1)}`;
    this.store.set({ spot: { at: [at[0], at[1]], label: `block ${course.block[row]}` } });
    this.chosen = `${name}: block ${course.block[row]} at ${place}: ${figures.join(', ') || 'nothing is cut'}.`;
    this.redraw();
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

  private draw(): void {
    const { state, program } = this.store;
    this.slider.value = String(Math.round((state.time / Math.max(1e-9, program.total)) * Number(this.slider.max)));
    this.slider.setAttribute('aria-valuetext', `${clockText(state.time)}, block ${this.store.moment.block}`);
    byId('run').textContent = state.running ? 'Halt' : 'Run';
    byId('clock').textContent = `${clockText(state.time)} of ${clockText(program.total)}`;
    byId('field-progress').textContent = progressWords(this.store);
    this.sayChosen();
    this.curves.draw();
  }

  /** The figures at once; what holds the part there as soon as the stock at that moment is worked out. */
  private sayChosen(): void {
    const { state } = this.store;
    const stage = byId('stage').dataset;
    const arrived = state.field !== null && state.field.position.toFixed(3) === stage['wanted'];
    const holds = arrived ? supportWords(this.store) : [];
    const text = this.chosen === '' ? '' : [this.chosen, ...holds.slice(0, SAID)].join(' ');
    const box = byId('axis-words');
    if (box.textContent !== text) box.textContent = text;
  }
}

/** Of the sentences on what holds the part: how much of its edge, and the two nearest supports. */
const SAID = 3;

function progressWords({ stock, state }: Store): string {
  if (stock === null) return 'The stock is not stated, so its removal is not shown.';
  if (state.fieldDone < 1) return `Working out the stock: ${Math.floor(state.fieldDone * 100)} %`;
  return '';
}
