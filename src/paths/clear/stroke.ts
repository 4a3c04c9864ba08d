/** A stroke prepared for one question asked very often: does it pass within a distance of a point? No angles are taken. */
import { cosine } from '../../base/angles.ts';
import type { Mm } from '../../base/units.ts';
import { pointAt, segmentBox } from '../../geometry/measure/segment.ts';
import type { Box, Segment } from '../../geometry/types.ts';

export class ClearingStroke {
  readonly path: Segment;
  readonly box: Box;
  /** Of an arc: from the centre to its middle, a unit vector, and the cosine of half its sweep. */
  private readonly mx: number = 0;
  private readonly my: number = 0;
  private readonly cosHalf: number = 1;
  private readonly length2: number = 0;

  constructor(path: Segment) {
    this.path = path;
    this.box = segmentBox(path);
    if (path.kind === 'arc') {
      const m = pointAt(path, 0.5);
      this.mx = (m.x - path.centre.x) / path.radius;
      this.my = (m.y - path.centre.y) / path.radius;
      this.cosHalf = cosine(Math.min(Math.PI, Math.abs(path.sweep) / 2));
    } else {
      this.length2 = (path.b.x - path.a.x) ** 2 + (path.b.y - path.a.y) ** 2;
    }
  }

  passesWithin(x: Mm, y: Mm, distance: Mm): boolean {
    const { box } = this;
    if (x < box.minX - distance || x > box.maxX + distance || y < box.minY - distance || y > box.maxY + distance) {
      return false;
    }
    const { a, b } = this.path;
    const d2 = distance * distance;
    if ((x - a.x) ** 2 + (y - a.y) ** 2 < d2 || (x - b.x) ** 2 + (y - b.y) ** 2 < d2) return true;
    return this.path.kind === 'arc' ? this.arcWithin(this.path, x, y, distance) : this.lineWithin(x, y, d2);
  }

  private arcWithin(path: Extract<Segment, { kind: 'arc' }>, x: Mm, y: Mm, distance: Mm): boolean {
    const dx = x - path.centre.x;
    const dy = y - path.centre.y;
    const d = Math.sqrt(dx * dx + dy * dy);
    return Math.abs(d - path.radius) < distance && dx * this.mx + dy * this.my >= d * this.cosHalf;
  }

  private lineWithin(x: Mm, y: Mm, d2: number): boolean {
    const { a, b } = this.path;
    const [ux, uy] = [b.x - a.x, b.y - a.y];
    const along = (x - a.x) * ux + (y - a.y) * uy;
    if (along <= 0 || along >= this.length2) return false;
    const aside = (x - a.x) * uy - (y - a.y) * ux;
    return aside * aside < d2 * this.length2;
  }
}
