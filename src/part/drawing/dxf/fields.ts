import type { DrawingFindings } from '../findings.ts';
import { FARTHEST } from '../limits.ts';
import type { TagRange } from './structure.ts';
import type { Tags } from './tags.ts';

/**
 * Reads the values of one entity. A missing or bad value is told with its line, and `broken` is set: the entity is then
 * left out, so that no shape is ever made of a value that was made up.
 */
export class Fields {
  broken = false;
  readonly tags: Tags;
  readonly span: TagRange;
  private readonly findings: DrawingFindings;

  constructor(tags: Tags, span: TagRange, findings: DrawingFindings) {
    this.tags = tags;
    this.span = span;
    this.findings = findings;
  }

  get line(): number {
    return this.tags.line(this.span.start);
  }

  /** Index of the first tag with a group code; -1 if there is none. */
  find(code: number): number {
    for (let i = this.span.start + 1; i < this.span.end; i++) if (this.tags.code(i) === code) return i;
    return -1;
  }

  text(code: number, absent: string): string {
    const i = this.find(code);
    return i === -1 ? absent : this.tags.name(i);
  }

  /** With no `absent` value the group must be there. */
  number(code: number, absent?: number): number {
    const i = this.find(code);
    if (i !== -1) return this.at(i);
    if (absent === undefined) {
      this.fail(
        'missing-value',
        `${this.span.type} has no group ${code}`,
        'every value the published format asks for',
        this.line,
      );
    }
    return absent ?? 0;
  }

  integer(code: number, absent: number): number {
    const i = this.find(code);
    if (i === -1) return absent;
    const value = this.tags.integer(i);
    if (value === null) this.broken = true;
    return value ?? 0;
  }

  /** The number at a tag. */
  at(i: number): number {
    const value = this.tags.number(i);
    if (value === null) this.broken = true;
    else if (Math.abs(value) > FARTHEST * 1e6) {
      this.fail('too-far', `${value} is out of all measure`, `coordinates within ${FARTHEST} mm`, this.tags.line(i));
    }
    return value ?? 0;
  }

  /** Every number of a group code, in order. */
  list(code: number): number[] {
    const values: number[] = [];
    for (let i = this.span.start + 1; i < this.span.end; i++) if (this.tags.code(i) === code) values.push(this.at(i));
    return values;
  }

  fail(code: string, found: string, wanted: string, line = this.line): void {
    this.broken = true;
    this.findings.fault({
      code,
      at: { line },
      found,
      wanted,
      remedy: 'correct or delete this entity in the drawing, or export it again',
    });
  }
}
