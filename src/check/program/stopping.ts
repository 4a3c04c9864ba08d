/** Where a program stands still: before the facts that its head states at a block, and before its first cut. */
import type { CanonicalMove } from '../language/canonical.ts';

export class Stopping {
  private last: { readonly block: number; readonly stop: boolean } | null = null;
  /** Of an earlier block than `last`. */
  private before = false;
  private readonly facts = new Map<number, boolean>();
  private latest = 0;
  private cut: number | null = null;
  private stopped = false;
  private stopsFirst = false;

  move(m: CanonicalMove): void {
    const stop = m.kind === 'stop';
    if (this.last !== null && this.last.block !== m.block) this.before = this.last.stop;
    this.last = { block: m.block, stop };
    // A path that is moved aside is known a block late: such a move may come after the comment that follows it.
    if (m.block < this.latest) for (const block of this.facts.keys()) if (m.block < block) this.facts.set(block, stop);
    if (stop) this.stopped = true;
    if (this.cut !== null || (m.kind !== 'feed' && m.kind !== 'arc')) return;
    this.cut = m.block;
    this.stopsFirst = this.stopped;
  }

  fact(block: number): void {
    const { last } = this;
    this.facts.set(block, last !== null && last.block < block ? last.stop : this.before);
    this.latest = Math.max(this.latest, block);
  }

  /** Whether the last move before the fact at a block is a stop. */
  at(block: number): boolean {
    return this.facts.get(block) ?? false;
  }

  get first(): { readonly firstCut: number | null; readonly stopsFirst: boolean } {
    return { firstCut: this.cut, stopsFirst: this.stopsFirst };
  }
}
