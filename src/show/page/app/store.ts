/** The one state of the page, and who wants to know when it changes. */
import type { ViewCutter, ViewData, ViewSetup, XY } from '../data/view-data.ts';
import type { FieldShape, FoundPlace } from '../worker/worker-talk.ts';
import { momentAt, type OpenProgram, type ProgramMoment } from './clock.ts';

export interface ShownLayers {
  readonly stock: boolean;
  readonly path: boolean;
  readonly rapids: boolean;
  readonly wholePath: boolean;
  readonly clamps: boolean;
  readonly holder: boolean;
  readonly marks: boolean;
}

export interface FieldNow {
  readonly shape: FieldShape;
  /** Moves of the set-up done, with the fraction of the next. */
  readonly position: number;
  readonly heights: Float32Array;
  readonly marks: Uint8Array;
  readonly coarse: Float32Array;
}

export interface PageState {
  readonly program: number;
  readonly time: number;
  readonly view: 'plan' | 'free';
  readonly shown: ShownLayers;
  /** Cutters whose paths are drawn. */
  readonly cutters: ReadonlySet<number>;
  readonly running: boolean;
  readonly rate: number;
  readonly measure: readonly (readonly [number, number, number | null])[];
  readonly measuring: boolean;
  /** A place shown by a ring: of a finding, a dip or a marked place. */
  readonly spot: { readonly at: XY; readonly label: string } | null;
  readonly field: FieldNow | null;
  readonly fieldDone: number;
  readonly places: readonly FoundPlace[] | null;
}

export type PageChange = Partial<PageState>;
type Listener = (state: PageState, changed: ReadonlySet<keyof PageState>) => void;

export class Store {
  readonly data: ViewData;
  readonly programs: readonly OpenProgram[];
  private current: PageState;
  private readonly listeners: Listener[] = [];

  constructor(data: ViewData, programs: readonly OpenProgram[]) {
    this.data = data;
    this.programs = programs;
    this.current = {
      program: 0,
      time: programs[0]?.total ?? 0,
      view: 'plan',
      shown: { stock: true, path: true, rapids: true, wholePath: false, clamps: true, holder: true, marks: true },
      cutters: new Set(data.cutters.map((c) => c.number)),
      running: false,
      rate: 10,
      measure: [],
      measuring: false,
      spot: null,
      field: null,
      fieldDone: 0,
      places: null,
    };
  }

  get state(): PageState {
    return this.current;
  }

  get program(): OpenProgram {
    return this.programs[this.current.program]!;
  }

  get moment(): ProgramMoment {
    return momentAt(this.program, this.current.time);
  }

  /** Of the set-up shown; null: not stated. */
  get stock(): ViewSetup['stock'] {
    return this.data.setups[this.program.view.setup]?.stock ?? null;
  }

  /** In the spindle at this moment; undefined before the first change, or where nothing is known of it. */
  get cutter(): ViewCutter | undefined {
    const number = this.cutterAt(this.moment.move);
    return this.data.cutters.find((c) => c.number === number);
  }

  /** Number of the cutter in the spindle at a move; 0 before the first change. */
  cutterAt(move: number): number {
    let number = 0;
    for (const [from, cutter] of this.program.view.changes) if (from <= move) number = cutter;
    return number;
  }

  set(change: PageChange): void {
    const keys = (Object.keys(change) as (keyof PageState)[]).filter((k) => change[k] !== this.current[k]);
    if (keys.length === 0) return;
    this.current = { ...this.current, ...change };
    const changed = new Set(keys);
    for (const l of this.listeners) l(this.current, changed);
  }

  /** Time kept within the program. A ring marks a place at its moment, so it goes when the time does. */
  goTo(time: number, more: PageChange = {}): void {
    this.set({ spot: null, ...more, time: Math.max(0, Math.min(this.program.total, time)) });
  }

  listen(listener: Listener): void {
    this.listeners.push(listener);
  }
}
