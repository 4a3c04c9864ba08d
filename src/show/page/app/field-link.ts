/** The worker: started from the page's own text, asked for one moment at a time, the newest wish first. */

import type { Buffers, FromWorker, ToWorker } from '../worker/worker-talk.ts';
import { byId } from './elements.ts';
import type { FieldNow, Store } from './store.ts';

export class FieldLink {
  private readonly store: Store;
  private worker: Worker | null = null;
  private setup = -1;
  private shape: FieldNow['shape'] | null = null;
  private busy = false;
  private wish: number | null = null;
  private asks = 0;
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
    const { data, programs } = this.store;
    const setup = this.store.program.view.setup;
    if (setup === this.setup) return;
    this.setup = setup;
    this.worker?.terminate();
    this.worker = null;
    this.shape = null;
    this.busy = false;
    this.spare = null;
    this.store.set({ field: null, fieldDone: 0, places: null });
    const stock = data.setups[setup]?.stock ?? null;
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
    this.wish = this.group().before + move + part;
    // What is asked for and what is drawn stand on the stage, for whoever waits for the picture.
    byId('stage').dataset['wanted'] = this.wish.toFixed(3);
    this.next();
  }

  private next(): void {
    if (this.busy || this.wish === null || this.worker === null || this.shape === null) return;
    this.busy = true;
    this.asks++;
    const spare = this.spare;
    this.spare = null;
    const message: ToWorker = { say: 'seek', position: this.wish, ask: this.asks, spare };
    this.wish = null;
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
        if (old)
          this.spare = {
            heights: old.heights.buffer as ArrayBuffer,
            marks: old.marks.buffer as ArrayBuffer,
            coarse: old.coarse.buffer as ArrayBuffer,
          };
        const { buffers, position } = message;
        this.store.set({
          field: {
            shape: this.shape!,
            position,
            heights: new Float32Array(buffers.heights),
            marks: new Uint8Array(buffers.marks),
            coarse: new Float32Array(buffers.coarse),
          },
        });
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
