/** One program as text. Decides nothing: spells what the moves say, leaving out words that would repeat what holds already. */
import { MM_PER_INCH } from '../base/units.ts';
import type { Move } from '../paths/moves.ts';
import { commentLines } from './comment.ts';
import { spell } from './number.ts';
import type { Post } from './post.ts';

type AxisName = 'x' | 'y' | 'z';

/** Collects lines with the index of the move each came from. */
export class LineWriter {
  readonly lines: string[] = [];
  readonly moveOfLine: number[] = [];
  private readonly post: Post;
  private readonly unit: number;
  /** Last written text of each axis, of F: a word equal to what holds is left out. Empty: not known. */
  private held: Partial<Record<AxisName | 'f', string>> = {};
  /** Last written position, millimetres, as the control reads it. */
  private at: Partial<Record<AxisName, number>> = {};
  private move = -1;

  constructor(post: Post) {
    this.post = post;
    this.unit = post.units === 'mm' ? 1 : MM_PER_INCH;
  }

  put(...lines: readonly string[]): void {
    for (const line of lines) {
      this.lines.push(line);
      this.moveOfLine.push(this.move);
    }
  }

  write(move: Move, index: number): void {
    this.move = index;
    switch (move.kind) {
      case 'rapid':
        return this.putMotion('G0', this.axes(move), '');
      case 'feed':
        return this.putMotion('G1', this.axes(move), this.feedWord(move.feed));
      case 'arc':
        return this.arc(move);
      case 'cycle':
        return this.cycle(move);
      case 'dwell':
        return this.put(`G4 P${spell(move.seconds, 2)}`);
      case 'spindle':
        return this.spindle(move);
      case 'coolant':
        return this.put({ none: 'M9', mist: 'M7', flood: 'M8' }[move.state]);
      case 'stop':
        this.put(...move.lines.flatMap((l) => commentLines(l, 'MSG,')), 'M0');
        return this.forget();
      case 'change':
        return this.change(move);
      case 'comment':
        return this.put(...commentLines(move.text));
      case 'operation':
        // An operation may be restarted at this line: every word is written again.
        this.forget();
        return this.put(...commentLines(`Operation ${move.id + 1}: ${move.title}`));
      case 'event':
        return this.put(`(${move.text})`);
    }
  }

  private change(move: Extract<Move, { kind: 'change' }>): void {
    if (this.post.cutterChange === 'code') this.put(`T${move.cutter} M6`);
    if (this.post.lengths === 'table') this.put(`G43 H${move.cutter}`);
    this.put(...move.lines.flatMap((l) => commentLines(l, 'MSG,')), 'M0');
    this.forget();
  }

  private spindle(move: Extract<Move, { kind: 'spindle' }>): void {
    if (!move.on) return this.put('M5');
    this.put(`S${spell(move.speed, 0)} M3`);
  }

  private arc(move: Extract<Move, { kind: 'arc' }>): void {
    const from = this.position('x', 'y');
    const end = ['x', 'y'] as const;
    const words = end.map((a) => this.axisWord(a, move[a], true));
    if (move.z !== undefined) words.push(this.axisWord('z', move.z, false));
    words.push(`I${this.length(move.centre.x - from[0])}`, `J${this.length(move.centre.y - from[1])}`);
    this.putMotion(move.counterClockwise ? 'G3' : 'G2', words, this.feedWord(move.feed));
  }

  private cycle(move: Extract<Move, { kind: 'cycle' }>): void {
    const code = { plain: 'G81', dwell: 'G82', peck: 'G83', ream: 'G85', tap: 'G84' }[move.cycle];
    const extra: string[] = [];
    if (move.cycle === 'dwell') extra.push(`P${spell(move.dwell, 2)}`);
    if (move.cycle === 'peck') extra.push(`Q${this.length(move.peck)}`);
    const feed = this.feedWord(move.feed);
    move.places.forEach((place, i) => {
      const words = [this.axisWord('x', place.x, true), this.axisWord('y', place.y, true)];
      if (i > 0) return this.put(words.join(' '));
      const levels = [`Z${this.length(move.bottom)}`, `R${this.length(move.from)}`];
      this.put(['G98', code, ...words, ...levels, ...extra, feed].filter((w) => w !== '').join(' '));
    });
    this.put('G80');
    // After G98 the cutter stands at the level it had before the cycle: the held Z word still holds.
  }

  private putMotion(code: string, words: readonly string[], feed: string): void {
    const said = words.filter((w) => w !== '');
    if (said.length === 0) return;
    this.put([code, ...said, feed].filter((w) => w !== '').join(' '));
  }

  private axes(move: { x?: number; y?: number; z?: number }): string[] {
    return (['x', 'y', 'z'] as const).map((a) => {
      const value = move[a];
      return value === undefined ? '' : this.axisWord(a, value, false);
    });
  }

  private axisWord(axis: AxisName, value: number, always: boolean): string {
    const text = this.length(value);
    const same = this.held[axis] === text;
    this.held[axis] = text;
    this.at[axis] = Number(text) * this.unit;
    return same && !always ? '' : `${axis.toUpperCase()}${text}`;
  }

  private feedWord(feed: number): string {
    const text = spell(feed / this.unit, this.post.feedDecimals);
    if (this.held.f === text) return '';
    this.held.f = text;
    return `F${text}`;
  }

  private length(value: number): string {
    return spell(value / this.unit, this.post.decimals);
  }

  private position(first: AxisName, second: AxisName): [number, number] {
    const a = this.at[first];
    const b = this.at[second];
    if (a === undefined || b === undefined)
      throw new Error('an arc before the position is known: a bug in the path stage');
    return [a, b];
  }

  /** After a stop nothing is taken as known: every word is written again. */
  private forget(): void {
    this.held = {};
    this.at = {};
  }
}
