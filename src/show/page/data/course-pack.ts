/** Holding, force and time along a program, packed: a row a block, hundredths of a margin, tenths of a micrometre and of a newton. */
import type { ProgramCourse } from '../../../course/course.ts';
import { ColumnReader, ColumnWriter, packColumns, unpackColumns } from './pack.ts';

/** NaN: nothing is cut, or the part is whole stock. */
export interface CourseColumns {
  readonly count: number;
  readonly block: Int32Array;
  readonly start: Float64Array;
  readonly seconds: Float64Array;
  readonly force: Float32Array;
  readonly power: Float32Array;
  readonly margin: Float32Array;
  readonly wantedMargin: Float32Array;
  readonly movement: Float32Array;
  readonly wantedMovement: Float32Array;
  readonly deflection: Float32Array;
}

/** Margins beyond this are drawn at the top of the curve; how far beyond tells nothing. */
export const MARGIN_TOP = 99;

export function packCourse(course: ProgramCourse): string {
  const columns = Array.from({ length: 10 }, () => new ColumnWriter());
  let block = 0;
  let clock = 0;
  for (const b of course.blocks) {
    columns[0]!.signed(b.block - block);
    block = b.block;
    const start = Math.round(b.start * 1000);
    columns[1]!.signed(start - clock);
    clock = Math.round((b.start + b.seconds) * 1000);
    columns[2]!.count(Math.max(0, clock - start));
    columns[3]!.count(Math.round(Math.max(0, b.force) * 10));
    columns[4]!.count(Math.round(Math.max(0, b.power) * 10));
    columns[5]!.count(b.margin === null ? 0 : 1 + Math.round(Math.min(MARGIN_TOP, Math.max(0, b.margin)) * 100));
    columns[6]!.count(b.movement === null ? 0 : 1 + Math.round(Math.max(0, b.movement) * 10000));
    columns[7]!.count(Math.round(Math.max(0, b.cutterDeflection) * 10000));
    columns[8]!.count(b.wantedMargin === null ? 0 : 1 + Math.round(b.wantedMargin * 100));
    columns[9]!.count(b.wantedMovement === null ? 0 : 1 + Math.round(b.wantedMovement * 10000));
  }
  const head = new ColumnWriter();
  head.count(course.blocks.length);
  return packColumns([head.done(), ...columns.map((c) => c.done())]);
}

export function unpackCourse(packed: string): CourseColumns {
  const [head, ...rest] = unpackColumns(packed).map((c) => new ColumnReader(c));
  const count = head!.count();
  const out = {
    count,
    block: new Int32Array(count),
    start: new Float64Array(count),
    seconds: new Float64Array(count),
    force: new Float32Array(count),
    power: new Float32Array(count),
    margin: new Float32Array(count),
    wantedMargin: new Float32Array(count),
    movement: new Float32Array(count),
    wantedMovement: new Float32Array(count),
    deflection: new Float32Array(count),
  };
  let block = 0;
  let clock = 0;
  for (let i = 0; i < count; i++) {
    block += rest[0]!.signed();
    out.block[i] = block;
    const start = clock + rest[1]!.signed();
    const span = rest[2]!.count();
    clock = start + span;
    out.start[i] = start / 1000;
    out.seconds[i] = span / 1000;
    out.force[i] = rest[3]!.count() / 10;
    out.power[i] = rest[4]!.count() / 10;
    out.margin[i] = orNone(rest[5]!.count(), 100);
    out.movement[i] = orNone(rest[6]!.count(), 10000);
    out.deflection[i] = rest[7]!.count() / 10000;
    out.wantedMargin[i] = orNone(rest[8]!.count(), 100);
    out.wantedMovement[i] = orNone(rest[9]!.count(), 10000);
  }
  return out;
}

/** 0 stands for nothing. */
function orNone(packed: number, parts: number): number {
  return packed === 0 ? NaN : (packed - 1) / parts;
}
