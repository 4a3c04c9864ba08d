/**
 * Rate of the language check (words, modal state, all 120 conditions, canonical moves) against the bare word splitter of
 * gcode-parser on the same text in the same run. A real finishing program is mostly short G1 lines with some arcs.
 */
import type { Sink } from '../../src/check/language/canonical.ts';
import { readProgram, readProgramInto } from '../../src/check/language/read.ts';
import { parseStringSync } from '../check/language/second-reader.ts';
import { random } from '../runs.ts';

export interface Row {
  readonly name: string;
  readonly value: number;
  readonly unit: string;
  readonly baseline?: number;
  readonly ratio?: number;
  readonly limit?: number;
  readonly checksum: string;
}

const LINES = 100_000;
const ROUNDS = 5;

export async function bench(): Promise<Row[]> {
  const text = program(LINES);
  let moves = 0;
  // The sink reads each move, so that building it cannot be optimised away.
  let sum = 0;
  const counting: Sink = {
    move: (m) => {
      moves++;
      sum += (m.to.x ?? 0) + m.block;
    },
    comment: () => undefined,
  };
  const ours = () => {
    moves = 0;
    sum = 0;
    if (readProgramInto(text, {}, counting).problems.length > 0) throw new Error('the bench program has a fault');
  };
  const theirs = () => {
    if (parseStringSync(text).length < LINES) throw new Error('the second reader lost lines');
  };
  const array = () => {
    if (readProgram(text).moves.length !== moves) throw new Error('the two forms differ');
  };
  // Rounds alternate, so that a busy machine slows both alike; the median of each is compared.
  const times = { ours: [] as number[], theirs: [] as number[], array: [] as number[] };
  for (const run of [ours, theirs, array]) run();
  for (let i = 0; i < ROUNDS; i++) {
    times.ours.push(clock(ours));
    times.theirs.push(clock(theirs));
    times.array.push(clock(array));
  }
  const baseline = median(times.theirs);
  const row = (name: string, list: number[], limit?: number): Row => {
    const base = {
      name,
      value: median(list),
      unit: 'ms',
      baseline,
      ratio: median(list) / baseline,
      checksum: `${moves} ${Math.round(sum)}`,
    };
    return limit === undefined ? base : { ...base, limit };
  };
  return [
    row('language check, streaming (at least twice as fast)', times.ours, 0.5),
    row('language check, all moves kept', times.array),
  ];
}

function clock(run: () => void): number {
  const start = performance.now();
  run();
  return performance.now() - start;
}

function median(list: readonly number[]): number {
  return [...list].sort((a, b) => a - b)[Math.floor(list.length / 2)]!;
}

/** About 1 line in 10 an arc, the rest feeds of two or three words, four decimals. */
function program(lines: number): string {
  const draw = random(7);
  const out = ['G17 G21 G40 G49 G54 G80 G90 G94 G98 G61', 'T1 M6', 'S3000 M3', 'G0 Z5.0000', 'G0 X0.0000 Y0.0000 F200'];
  let [x, y] = [0, 0];
  while (out.length < lines - 2) {
    const [nx, ny] = [Math.round(draw() * 800_000) / 10_000, Math.round(draw() * 400_000) / 10_000];
    const kind = draw();
    if (kind < 0.1)
      out.push(`G3 X${nx.toFixed(4)} Y${ny.toFixed(4)} I${((nx - x) / 2).toFixed(4)} J${((ny - y) / 2).toFixed(4)}`);
    else if (kind < 0.6) out.push(`G1 X${nx.toFixed(4)} Y${ny.toFixed(4)}`);
    else out.push(`G1 X${nx.toFixed(4)} Y${ny.toFixed(4)} Z-${draw().toFixed(4)}`);
    [x, y] = [nx, ny];
  }
  out.push('M5', 'M2');
  return out.join('\n');
}
