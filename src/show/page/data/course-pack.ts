/** Holding, force and time along a program, packed: a row a block, hundredths of a margin, tenths of a micrometre and of a newton. */
import type { BlockCourse, ProgramCourse } from '../../../course/course.ts';
import { ColumnReader, ColumnWriter, packColumns, unpackColumns } from './pack.ts';

/** NaN: nothing is cut, or the part is whole stock. */
export interface CourseColumns extends Readonly<Record<CourseFigure, Float32Array>> {
  readonly count: number;
  readonly block: Int32Array;
  readonly start: Float64Array;
  readonly seconds: Float64Array;
}

type CourseFigure = 'force' | 'power' | 'margin' | 'movement' | 'deflection' | 'wantedMargin' | 'wantedMovement';

/** Margins beyond this are drawn at the top of the curve; how far beyond tells nothing. */
export const MARGIN_TOP = 99;

interface FigureColumn {
  readonly name: CourseFigure;
  /** Parts of a unit that it is counted in. */
  readonly parts: number;
  /** 1 where there may be none: 0 then stands for nothing. */
  readonly from: 0 | 1;
  of(b: BlockCourse): number | null;
}

/** In the order they are packed. */
const FIGURES: readonly FigureColumn[] = [
  { name: 'force', parts: 10, from: 0, of: (b) => b.force },
  { name: 'power', parts: 10, from: 0, of: (b) => b.power },
  { name: 'margin', parts: 100, from: 1, of: (b) => b.margin && Math.min(MARGIN_TOP, b.margin) },
  { name: 'movement', parts: 10_000, from: 1, of: (b) => b.movement },
  { name: 'deflection', parts: 10_000, from: 0, of: (b) => b.cutterDeflection },
  { name: 'wantedMargin', parts: 100, from: 1, of: (b) => b.wantedMargin },
  { name: 'wantedMovement', parts: 10_000, from: 1, of: (b) => b.wantedMovement },
];

export function packCourse(course: ProgramCourse): string {
  const head = new ColumnWriter();
  head.count(course.blocks.length);
  const times = [new ColumnWriter(), new ColumnWriter(), new ColumnWriter()] as const;
  let block = 0;
  let clock = 0;
  for (const b of course.blocks) {
    times[0].signed(b.block - block);
    block = b.block;
    const start = Math.round(b.start * 1000);
    times[1].signed(start - clock);
    clock = Math.round((b.start + b.seconds) * 1000);
    times[2].count(Math.max(0, clock - start));
  }
  const figures = FIGURES.map(({ parts, from, of }) => {
    const column = new ColumnWriter();
    for (const b of course.blocks) {
      const value = of(b);
      column.count(value === null ? 0 : from + Math.round(Math.max(0, value) * parts));
    }
    return column;
  });
  return packColumns([head, ...times, ...figures].map((c) => c.done()));
}

export function unpackCourse(packed: string): CourseColumns {
  const [head, blocks, starts, spans, ...figures] = unpackColumns(packed).map((c) => new ColumnReader(c));
  const count = head!.count();
  const times = { block: new Int32Array(count), start: new Float64Array(count), seconds: new Float64Array(count) };
  let block = 0;
  let clock = 0;
  for (let i = 0; i < count; i++) {
    block += blocks!.signed();
    times.block[i] = block;
    const start = clock + starts!.signed();
    const span = spans!.count();
    clock = start + span;
    times.start[i] = start / 1000;
    times.seconds[i] = span / 1000;
  }
  const columns = FIGURES.map(({ name, parts, from }, k) => {
    const next = () => figures[k]!.count() - from;
    const values = Float32Array.from({ length: count }, next).map((v) => (v < 0 ? NaN : v / parts));
    return [name, values] as const;
  });
  return { count, ...times, ...(Object.fromEntries(columns) as Record<CourseFigure, Float32Array>) };
}
