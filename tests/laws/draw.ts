/** Seeded draws for random jobs: numbers on a step, choices, chances. */
import { random } from '../runs.ts';

export class Draw {
  readonly unit: () => number;

  constructor(seed: number) {
    this.unit = random(seed);
  }

  between(low: number, high: number, step: number): number {
    return round(Math.round((low + this.unit() * (high - low)) / step) * step);
  }

  whole(low: number, high: number): number {
    return low + Math.floor(this.unit() * (high - low + 1));
  }

  chance(share: number): boolean {
    return this.unit() < share;
  }

  one<T>(from: readonly T[]): T {
    return from[Math.floor(this.unit() * from.length)]!;
  }
}

export function round(v: number): number {
  return Math.round(v * 1000) / 1000;
}
