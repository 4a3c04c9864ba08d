/** The worker: started from the page's own text, asked for one moment at a time, the newest first. */

import type { Buffers, FromWorker, ToWorker } from '../worker/worker-talk.ts';
import { byId } from './elements.ts';
import type { FieldNow, Store } from './store.ts';

export class FieldLink {
  private readonly store: Store;
  private worker: Worker | null = null;
  private setup = -1;
  private shape: FieldNow['shape'] | null = null;
  private busy = false;
  /** The newest moment asked for and not yet sent. */
  private wanted: number | null = null;
  private spare: Buffers | null = null;

  constructor(store: Store) {
    this.store = store;
    store.listen((_, changed) => {
      if (changed.has('program')) this.open();
      if (changed.has('program') || changed.has('time')) this.ask();
    });
    this.open();
    this.ask();
  }

  /** Programs of the set-up in running order, and the moves before the one shown. */
  private group(): { readonly members: readonly number[]; readonly before: number } {
    const { programs, state } = this.store;
    const setup = this.store.program.view.setup;
    const members = programs.flatMap((p, i) => (p.view.setup === setup ? [i] : []));
    const before = members.filter((i) => i < state.program).reduce((n, i) => n + programs[i]!.moves.count, 0);
    return { members, before };
  }

  private open(): void {
    const { data, programs, stock } = this.store;
    const setup = this.store.program.view.setup;
    if (setup === this.setup) return;
    this.setup = setup;
    this.worker?.terminate();
    this.worker = null;
    this.shape = null;
    this.busy = false;
    this.spare = null;
    this.store.set({ field: null, fieldDone: 0, places: null });
    if (stock === null) return;
    this.worker = newWorker();
    this.worker.onmessage = (event: MessageEvent<FromWorker>) => this.hear(event.data);
    const run = {
      stock,
      programs: this.group().members.map((i) => ({ moves: programs[i]!.moves, changes: programs[i]!.view.changes })),
      cutters: data.cutters,
    };
    const { parts, thickness, spared, floor, cutters } = data;
    // What is wanted is known of the first set-up alone: later ones lie otherwise.
    const wanted = setup === 0 && data.hasJob ? { parts, thickness, spared, floor, cutters } : null;
    this.send({ say: 'start', run, wanted });
  }

  private ask(): void {
    const { move, part } = this.store.moment;
    this.wanted = this.group().before + move + part;
    // What is asked for and what is drawn stand on the stage, for whoever waits for the picture.
    byId('stage').dataset['wanted'] = this.wanted.toFixed(3);
    this.next();
  }

  private next(): void {
    if (this.busy || this.wanted === null || this.worker === null || this.shape === null) return;
    this.busy = true;
    const spare = this.spare;
    this.spare = null;
    const message: ToWorker = { say: 'seek', position: this.wanted, spare };
    this.wanted = null;
    this.send(message, spare === null ? [] : [spare.heights, spare.marks, spare.coarse]);
  }

  private hear(message: FromWorker): void {
    switch (message.say) {
      case 'shape':
        this.shape = message.shape;
        this.next();
        return;
      case 'progress':
        this.store.set({ fieldDone: message.done });
        return;
      case 'places':
        this.store.set({ places: message.places });
        return;
      case 'field': {
        this.busy = false;
        const old = this.store.state.field;
        const buffer = (of: Float32Array | Uint8Array) => of.buffer as ArrayBuffer;
        if (old) this.spare = { heights: buffer(old.heights), marks: buffer(old.marks), coarse: buffer(old.coarse) };
        const { buffers, position } = message;
        const [heights, coarse] = [new Float32Array(buffers.heights), new Float32Array(buffers.coarse)];
        const field = { shape: this.shape!, position, heights, marks: new Uint8Array(buffers.marks), coarse };
        this.store.set({ field });
        this.next();
      }
    }
  }

  private send(message: ToWorker, transfer: ArrayBuffer[] = []): void {
    this.worker?.postMessage(message, transfer);
  }
}

function newWorker(): Worker {
  const text = byId('worker-script').textContent ?? '';
  return new Worker(URL.createObjectURL(new Blob([text], { type: 'text/javascript' })));
}
