/** What a kind of planted fault is, and what it may draw on. */
import type { Job } from '../../src/part/part.ts';
import { courseOf, type Move } from './course.ts';
import { harmOf } from './harm.ts';
import type { Good, Text } from './jobs.ts';
import { lineAt, type Place, unitOf, withLine } from './text.ts';

export interface Kind {
  /** `a coordinate of the finishing pass 0.02 mm into the part` */
  readonly name: string;
  /** The check must name one of these among its faults. */
  readonly codes: RegExp;
  /** How many blocks a fault of such a code may be off the planted one; null: the place is not one block. */
  readonly within: number | null;
  /** Null: this good program has no such spot, or the fault would do no harm there. */
  plant(c: Ground): Planted | null;
}

export interface Planted {
  readonly programs: readonly Text[];
  /** Where the job itself is changed. */
  readonly job?: Job;
  readonly at?: Place;
  /** What it does beyond the limits, in words: for whoever reads a failure. */
  readonly harm: string;
}

/** A good program to be spoiled, with what is known of it and a seeded draw. */
export class Ground {
  readonly good: Good;
  readonly moves: readonly Move[];
  private readonly draw: () => number;

  constructor(good: Good, moves: readonly Move[], draw: () => number) {
    this.good = good;
    this.moves = moves;
    this.draw = draw;
  }

  get programs(): readonly Text[] {
    return this.good.programs;
  }

  get job(): Job {
    return this.good.job;
  }

  number(from: number, to: number): number {
    return from + (to - from) * this.draw();
  }

  /** In an order drawn for this run. */
  shuffled<T>(list: readonly T[]): T[] {
    const left = [...list];
    return list.map(() => left.splice(Math.floor(this.draw() * left.length), 1)[0]!);
  }

  pick<T>(list: readonly T[]): T | undefined {
    return this.shuffled(list)[0];
  }

  /** Program lengths are written in this many millimetres. */
  unit(program: number): number {
    return unitOf(this.programs, program);
  }

  line(at: Place): string {
    return lineAt(this.programs, at);
  }

  /** Moves of operations whose words match. */
  of(operation: RegExp): Move[] {
    return this.moves.filter((m) => operation.test(m.operation));
  }

  cutter(m: Move) {
    return this.job.cutters.find((c) => c.number === m.tool)!;
  }

  /** One line changed at the first spot, in drawn order, where the brute-force judge sees harm. */
  harmful(spots: readonly Place[], change: (line: string, at: Place) => string | null): Planted | null {
    for (const at of this.shuffled(spots).slice(0, TRIES)) {
      const line = this.line(at);
      const changed = change(line, at);
      if (changed === line) continue;
      const programs = withLine(this.programs, at, changed);
      const harm = harmOf(this.good, programs);
      if (harm !== null) return { programs, at, harm: `${line} -> ${changed ?? 'nothing'}: ${harm}` };
    }
    return null;
  }

  /** One line changed at a drawn spot; the harm is certain and said by the caller. */
  certain(spots: readonly Place[], harm: string, change: (line: string, at: Place) => string | null): Planted | null {
    for (const at of this.shuffled(spots).slice(0, TRIES)) {
      const line = this.line(at);
      const changed = change(line, at);
      if (changed !== line) return { programs: withLine(this.programs, at, changed), at, harm };
    }
    return null;
  }
}

/** Spots tried before a kind counts as not applicable. */
const TRIES = 6;

export function groundOf(good: Good, draw: () => number): Ground {
  return new Ground(good, courseOf(good.programs), draw);
}
