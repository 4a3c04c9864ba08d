/**
 * A DXF drawing of an outline: ASCII, the smallest form of the R12 format that readers accept (header, layer table,
 * entities), because every later reader takes it too. POLYLINE with bulges, CIRCLE, LINE; full double precision.
 * $INSUNITS is younger than R12 but is passed over by readers that do not know it, and spares the others the question.
 */
import { LAYERS } from '../../base/drawing-layers.ts';
import { bulgeOf } from '../../geometry/measure/segment.ts';
import type { Loop, Point, Segment } from '../../geometry/types.ts';
import { type DrawingContents, tabEnds } from './contents.ts';
import { exact } from './exact.ts';

type DxfGroup = readonly [code: number, value: string | number];

export function outlineDxf(contents: DrawingContents): string {
  const pairs: DxfGroup[] = [
    [999, `${plain(contents.name)}, millimetres, true size`],
    ...section('HEADER', header()),
    ...section('TABLES', layerTable()),
    ...section('ENTITIES', [
      ...contents.outlines.flatMap((l) => loop(l, LAYERS.outline)),
      ...(contents.openings ?? []).flatMap((l) => loop(l, LAYERS.opening)),
      ...(contents.holes ?? []).flatMap((h) => circle(h.at, h.diameter / 2, LAYERS.hole)),
      ...(contents.tabs ?? []).flatMap((t) => line(...tabEnds(t), LAYERS.tab)),
    ]),
    [0, 'EOF'],
  ];
  return pairs.map(([code, value]) => `${String(code).padStart(3)}\n${value}\n`).join('');
}

function section(name: string, inner: readonly DxfGroup[]): DxfGroup[] {
  return [[0, 'SECTION'], [2, name], ...inner, [0, 'ENDSEC']];
}

function header(): DxfGroup[] {
  return [
    [9, '$ACADVER'],
    [1, 'AC1009'],
    [9, '$INSUNITS'],
    [70, 4],
  ];
}

/** Colour numbers only tell layers apart on a screen; the line type of every layer is continuous, which needs no table. */
function layerTable(): DxfGroup[] {
  const names = Object.values(LAYERS);
  const layers = names.flatMap((name, i): DxfGroup[] => [
    [0, 'LAYER'],
    [2, name],
    [70, 0],
    [62, [7, 5, 3, 1][i]!],
    [6, 'CONTINUOUS'],
  ]);
  return [[0, 'TABLE'], [2, 'LAYER'], [70, names.length], ...layers, [0, 'ENDTAB']];
}

function loop(l: Loop, layer: string): DxfGroup[] {
  const only = l[0];
  if (l.length === 1 && only?.kind === 'arc') return circle(only.centre, only.radius, layer);
  const vertices = l.flatMap((s) => vertex(s, layer));
  // 66: vertices follow; 70 bit 1: closed. The point of a POLYLINE is a dummy that holds its height.
  return [[0, 'POLYLINE'], [8, layer], [66, 1], ...at({ x: 0, y: 0 }), [70, 1], ...vertices, [0, 'SEQEND'], [8, layer]];
}

function vertex(s: Segment, layer: string): DxfGroup[] {
  const corner: DxfGroup[] = [[0, 'VERTEX'], [8, layer], ...at(s.a)];
  return s.kind === 'line' ? corner : [...corner, [42, real(bulgeOf(s))]];
}

function circle(centre: Point, radius: number, layer: string): DxfGroup[] {
  return [[0, 'CIRCLE'], [8, layer], ...at(centre), [40, real(radius)]];
}

function line(a: Point, b: Point, layer: string): DxfGroup[] {
  return [[0, 'LINE'], [8, layer], ...at(a), [11, real(b.x)], [21, real(b.y)], [31, '0.0']];
}

function at(p: Point): DxfGroup[] {
  return [
    [10, real(p.x)],
    [20, real(p.y)],
    [30, '0.0'],
  ];
}

/** Reals carry a decimal point in every published example. */
function real(value: number): string {
  const text = exact(value);
  return text.includes('.') ? text : `${text}.0`;
}

/** A comment is one line of plain characters. */
function plain(text: string): string {
  return text.replace(/[^\x20-\x7e]/g, '?').slice(0, 200);
}
