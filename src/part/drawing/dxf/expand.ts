/** Walks entities and blocks: POLYLINE with its vertices, INSERT with scale, turn, mirror and array, nested blocks. */
import { type Affine, compose, IDENTITY, scaling, translation, turning } from '../curve/affine.ts';
import { type DrawnShape, mapCurve } from '../curve/curve.ts';
import type { Source } from '../drawing.ts';
import { count, type DrawingFindings } from '../findings.ts';
import { DEEPEST_NESTING, MOST_COPIES, MOST_PIECES } from '../limits.ts';
import { quoted } from '../number.ts';
import { ENTITY_READERS, type PolylineVertex, polyline } from './entities.ts';
import { entityAxes } from './extrusion.ts';
import { Fields } from './fields.ts';
import type { DxfBlock, Structure, TagRange } from './structure.ts';
import { REPEAT, type Tags } from './tags.ts';

/** A shape of the drawing with where it came from, in drawing units. */
export interface Placed {
  readonly shape: DrawnShape;
  readonly source: Source;
}

/** Written for people or for other programs; they are counted, never cut. */
const ANNOTATION = new Set(
  'TEXT MTEXT ATTRIB ATTDEF DIMENSION ARC_DIMENSION LARGE_RADIAL_DIMENSION LEADER MLEADER MULTILEADER TOLERANCE HATCH POINT VIEWPORT ACAD_TABLE IMAGE WIPEOUT SHAPE RTEXT'.split(
    ' ',
  ),
);

interface InsertContext {
  readonly matrix: Affine;
  /** Layer that entities on layer 0 of a block take on. */
  readonly layer: string;
  readonly blocks: readonly string[];
}

export class Expander {
  readonly placed: Placed[] = [];
  /** Entities left out because their layer is off or frozen, by layer. */
  readonly hidden = new Map<string, number>();
  private readonly tags: Tags;
  private readonly structure: Structure;
  private readonly findings: DrawingFindings;
  private readonly wanted: ((layer: string) => boolean) | null;
  private pieces = 0;
  private copies = 0;
  private overflow = false;

  /** `wanted` names the layers to read; null reads all that are not hidden. */
  constructor(
    tags: Tags,
    structure: Structure,
    findings: DrawingFindings,
    wanted: ((layer: string) => boolean) | null,
  ) {
    this.tags = tags;
    this.structure = structure;
    this.findings = findings;
    this.wanted = wanted;
  }

  run(): readonly Placed[] {
    this.walk(this.structure.entities, { matrix: IDENTITY, layer: '0', blocks: [] });
    return this.placed;
  }

  private walk(spans: readonly TagRange[], where: InsertContext): void {
    for (let i = 0; i < spans.length && !this.findings.full && !this.overflow; i++) {
      const span = spans[i]!;
      const f = new Fields(this.tags, span, this.findings);
      // Paper space holds the sheet's frame and views, not the part.
      if (f.integer(67, 0) === 1 || f.integer(60, 0) === 1) continue;
      if (span.type === 'POLYLINE') i = this.polyline(spans, i, f, where);
      else if (span.type === 'INSERT') this.insert(f, where);
      else if (span.type in ENTITY_READERS) this.add(f, where, ENTITY_READERS[span.type]!);
      else if (span.type !== 'SEQEND' && span.type !== 'VERTEX') {
        count(ANNOTATION.has(span.type) ? this.findings.ignored : this.findings.unknown, span.type);
      }
    }
  }

  private layerOf(f: Fields, where: InsertContext): string {
    const own = f.text(8, '0');
    if (own === '0' && where.blocks.length > 0) return where.layer;
    return this.structure.layers.get(own.toUpperCase())?.name ?? own;
  }

  private readable(layer: string): boolean {
    if (this.wanted !== null) return this.wanted(layer);
    if ((this.structure.layers.get(layer.toUpperCase())?.state ?? 'shown') === 'shown') return true;
    count(this.hidden, layer);
    return false;
  }

  private add(f: Fields, where: InsertContext, reader: (fields: Fields) => DrawnShape | null): void {
    const layer = this.layerOf(f, where);
    if (!this.readable(layer)) return;
    const shape = reader(f);
    if (shape === null || f.broken) return;
    this.pieces += shape.curves.length;
    if (this.pieces > MOST_PIECES) {
      this.overflow = true;
      this.findings.fault({
        code: 'too-many-pieces',
        at: { line: f.line },
        found: `more than ${MOST_PIECES} lines, arcs and curves`,
        wanted: 'the drawing of one small part',
        remedy: 'export the part alone, without hatching, borders and arrays',
      });
      return;
    }
    const handle = f.text(5, '');
    const source = { type: f.span.type, line: f.line, layer, ids: handle === '' ? [] : [handle], blocks: where.blocks };
    this.placed.push({ shape: { ...shape, curves: shape.curves.map((c) => mapCurve(where.matrix, c)) }, source });
  }

  /** Reads POLYLINE, its VERTEX entities and SEQEND; returns the index of the last of them. */
  private polyline(spans: readonly TagRange[], at: number, f: Fields, where: InsertContext): number {
    let i = at + 1;
    const flags = f.integer(70, 0);
    const vertices: PolylineVertex[] = [];
    for (; i < spans.length && spans[i]!.type === 'VERTEX'; i++) {
      const v = new Fields(this.tags, spans[i]!, this.findings);
      // Flag 16: frame of a spline-fit polyline, not a point of the curve.
      if ((v.integer(70, 0) & 16) === 0)
        vertices.push({ at: { x: v.number(10), y: v.number(20) }, bulge: v.number(42, 0) });
      if (v.broken) f.broken = true;
    }
    if (spans[i]?.type !== 'SEQEND') {
      f.fail(
        'no-seqend',
        `POLYLINE is followed by ${spans[i]?.type ?? 'the end of the section'} and not by SEQEND`,
        'VERTEX entities and 0 SEQEND after a POLYLINE',
      );
      return i - 1;
    }
    // Flags 16 and 64: a mesh, which has no outline.
    if ((flags & (16 | 64)) !== 0) count(this.findings.unknown, 'POLYLINE mesh');
    else this.add(f, where, () => polyline(f, vertices, (flags & 1) === 1));
    return i;
  }

  private insert(f: Fields, where: InsertContext): void {
    const layer = this.layerOf(f, where);
    const frozen = this.structure.layers.get(layer.toUpperCase())?.state === 'frozen';
    if (frozen && this.wanted === null) return count(this.hidden, layer);
    const block = this.blockOf(f, where);
    const [sx, sy] = [f.number(41, 1), f.number(42, 1)];
    const [columns, rows] = [Math.max(1, f.integer(70, 1)), Math.max(1, f.integer(71, 1))];
    const [dx, dy] = [f.number(44, 0), f.number(45, 0)];
    const at = { x: f.number(10, 0), y: f.number(20, 0) };
    const turn = f.number(50, 0);
    if (!f.broken && (sx === 0 || sy === 0))
      f.fail('bad-scale', `INSERT with scale ${sx}, ${sy}`, 'scales other than zero');
    if (columns * rows > MOST_COPIES)
      f.fail('too-many-copies', `INSERT of ${columns} columns and ${rows} rows`, `at most ${MOST_COPIES} copies`);
    if (block === null || f.broken) return;
    const placed = compose(entityAxes(f), compose(translation(at.x, at.y), turning(turn)));
    const inner = compose(scaling(sx, sy), translation(-block.baseX, -block.baseY));
    const next = { layer, blocks: [...where.blocks, block.name] };
    for (let row = 0; row < rows; row++) {
      for (let column = 0; column < columns && !this.findings.full && !this.overflow && !f.broken; column++) {
        if (++this.copies > MOST_COPIES)
          return f.fail(
            'too-many-copies',
            `more than ${MOST_COPIES} copies of blocks`,
            'the drawing of one small part',
          );
        // Rows and columns run along the turned axes and are not scaled.
        const copy = compose(placed, compose(translation(column * dx, row * dy), inner));
        this.walk(block.entities, { ...next, matrix: compose(where.matrix, copy) });
      }
    }
  }

  private blockOf(f: Fields, where: InsertContext): DxfBlock | null {
    const name = f.text(2, '');
    const block = this.structure.blocks.get(name.toUpperCase());
    if (block === undefined) {
      f.fail(
        'unknown-block',
        `INSERT of block ${quoted(name)}, which is not in the drawing`,
        `a block of the BLOCKS section; external references are never fetched. ${REPEAT}`,
      );
      return null;
    }
    if (where.blocks.includes(block.name)) {
      f.fail(
        'block-cycle',
        `block ${quoted(name)} inserts itself: ${[...where.blocks, block.name].join(' > ')}`,
        'blocks that do not hold themselves',
      );
      return null;
    }
    if (where.blocks.length >= DEEPEST_NESTING) {
      f.fail('too-deep', `blocks within blocks, more than ${DEEPEST_NESTING} deep`, 'blocks nested less deep');
      return null;
    }
    return block;
  }
}
