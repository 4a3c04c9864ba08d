/**
 * Entry of the worker. Runs the whole set-up once in slices, so that a seek asked for meanwhile is answered soon, then tells
 * the marked places. A classic script: module workers do not start from a page opened from disk.
 */
import { FieldRun } from './field-run.ts';
import { markCells, markedPlaces } from './marks.ts';
import { type WantedCells, wantedField } from './wanted-field.ts';
import { BLOCK, type Buffers, type FoundPlace, type FromWorker, type ToWorker } from './worker-talk.ts';

interface Scope {
  onmessage: ((event: { readonly data: ToWorker }) => void) | null;
  postMessage(message: FromWorker, transfer?: readonly ArrayBuffer[]): void;
}

const scope = globalThis as unknown as Scope;
/** Work between two looks at the letter box. */
const SLICE_MS = 40;

let run: FieldRun | null = null;
let wanted: WantedCells | null = null;
let ahead = 0;

scope.onmessage = ({ data }) => {
  if (data.say === 'start') start(data);
  else if (run) answer(run, data.position, data.spare);
};

function start(data: Extract<ToWorker, { say: 'start' }>): void {
  run = new FieldRun(data.run);
  wanted = data.wanted === null ? null : wantedField(run.field, data.wanted);
  const { cols, rows, cell, x0, y0, bottom } = run.field;
  const coarse = { coarseCols: Math.ceil(cols / BLOCK), coarseRows: Math.ceil(rows / BLOCK) };
  scope.postMessage({ say: 'shape', shape: { cols, rows, cell, x0, y0, bottom, ...coarse } });
  ahead = 0;
  setTimeout(goOn, 0);
}

function goOn(): void {
  if (!run) return;
  const until = Date.now() + SLICE_MS;
  const step = Math.max(1, Math.ceil(run.total / 400));
  while (ahead < run.total && Date.now() < until) {
    ahead = Math.min(run.total, ahead + step);
    run.seek(ahead);
  }
  scope.postMessage({ say: 'progress', done: run.total === 0 ? 1 : ahead / run.total });
  if (ahead < run.total) setTimeout(goOn, 0);
  else scope.postMessage({ say: 'places', places: wanted === null ? [] : places(run, wanted) });
}

function places(r: FieldRun, w: WantedCells): FoundPlace[] {
  const heights = r.seek(r.total);
  const marks = new Uint8Array(heights.length);
  markCells(heights, w, true, marks);
  return markedPlaces(r.field, heights, w, marks).map((p) => ({
    ...p,
    move: p.kind === 'uncut' ? r.total : r.firstWhere((h) => h[p.cell]! < w.height[p.cell]! - 0.01),
  }));
}

function answer(r: FieldRun, position: number, spare: Buffers | null): void {
  const heights = r.seek(position);
  const { cols, rows } = r.field;
  const coarseCols = Math.ceil(cols / BLOCK);
  const coarseRows = Math.ceil(rows / BLOCK);
  const copy = spare ? new Float32Array(spare.heights) : new Float32Array(heights.length);
  const marks = spare ? new Uint8Array(spare.marks) : new Uint8Array(heights.length);
  const coarse = spare ? new Float32Array(spare.coarse) : new Float32Array(coarseCols * coarseRows);
  copy.set(heights);
  if (wanted) markCells(heights, wanted, position >= r.total, marks);
  greatest(heights, cols, rows, coarse, coarseCols);
  const buffers = { heights: copy.buffer, marks: marks.buffer, coarse: coarse.buffer };
  scope.postMessage({ say: 'field', position, buffers }, [buffers.heights, buffers.marks, buffers.coarse]);
}

function greatest(heights: Float32Array, cols: number, rows: number, into: Float32Array, coarseCols: number): void {
  into.fill(-Infinity);
  for (let r = 0; r < rows; r++) {
    const line = Math.floor(r / BLOCK) * coarseCols;
    for (let c = 0; c < cols; c++) {
      const k = line + Math.floor(c / BLOCK);
      const h = heights[r * cols + c]!;
      if (h > into[k]!) into[k] = h;
    }
  }
}
