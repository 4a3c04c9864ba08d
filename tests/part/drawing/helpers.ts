import { readFileSync } from 'node:fs';
import type { Outcome } from '../../../src/base/problem.ts';
import { describeProblem } from '../../../src/base/problem.ts';
import { nearestOn } from '../../../src/geometry/measure/segment.ts';
import type { Point, Segment } from '../../../src/geometry/types.ts';
import type { Drawing, DrawingOptions } from '../../../src/part/drawing/drawing.ts';
import { readDrawing } from '../../../src/part/drawing/read.ts';

const FIXTURES = new URL('./fixtures/', import.meta.url);

export function fixture(name: string): string {
  return readFileSync(new URL(name, FIXTURES), 'utf8');
}

/** The value, or a failure that says every problem. */
export function must<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.problems.map(describeProblem).join('\n'));
  return outcome.value;
}

export function readDxfText(text: string, options: Partial<DrawingOptions> = {}): Drawing {
  return must(readDrawing(text, { format: 'dxf', units: 'mm', ...options }));
}

export function readSvgText(text: string, options: Partial<DrawingOptions> = {}): Drawing {
  return must(readDrawing(text, { format: 'svg', units: 'mm', ...options }));
}

/** ASCII DXF of entities, each a list of code, value, code, value ... */
export function dxfOf(
  entities: readonly (readonly (number | string)[])[],
  header: readonly (number | string)[] = [],
  blocks: readonly (readonly (number | string)[])[] = [],
): string {
  const lines: (number | string)[] = [0, 'SECTION', 2, 'HEADER', ...header, 0, 'ENDSEC'];
  if (blocks.length > 0) lines.push(0, 'SECTION', 2, 'BLOCKS', ...blocks.flat(), 0, 'ENDSEC');
  lines.push(0, 'SECTION', 2, 'ENTITIES');
  for (const e of entities) lines.push(...e);
  lines.push(0, 'ENDSEC', 0, 'EOF');
  return `${lines.join('\n')}\n`;
}

export function lineEntity(x1: number, y1: number, x2: number, y2: number, layer = 'EDGE'): (number | string)[] {
  return [0, 'LINE', 8, layer, 10, x1, 20, y1, 11, x2, 21, y2];
}

export function svgOf(inner: string, attributes = 'width="100mm" height="50mm" viewBox="0 0 100 50"'): string {
  return `<svg xmlns="http://www.w3.org/2000/svg" ${attributes}>\n${inner}\n</svg>`;
}

export function allSegments(d: Drawing): Segment[] {
  return [...d.loops.flatMap((l) => l.loop), ...d.open.flatMap((o) => o.chain)];
}

/** Largest distance from points to the nearest of the segments. */
export function farthestFrom(segments: readonly Segment[], points: readonly Point[]): number {
  return points.reduce(
    (worst, p) =>
      Math.max(
        worst,
        segments.reduce((best, s) => Math.min(best, nearestOn(s, p).distance), Infinity),
      ),
    0,
  );
}
