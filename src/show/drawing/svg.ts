/**
 * An SVG drawing of an outline at true size: one user unit is one millimetre, arcs stay arcs, Y is turned (SVG counts it
 * down). An empty group with the id `part-zero` marks the part's own 0,0, which need not be a corner of the sheet.
 * Line types by ISO 128: edges continuous wide, tabs dashed narrow.
 */
import { LAYERS, TABS_ID } from '../../base/drawing-layers.ts';
import { loopBox, uniteBoxes } from '../../geometry/measure/loop.ts';
import type { Box, Loop, Point, Segment } from '../../geometry/types.ts';
import { type DrawingContents, tabEnds } from './contents.ts';
import { exact } from './exact.ts';

/** Paper round the part, whole millimetres, so that shifts by it do not round. */
const MARGIN = 2;

/** ISO 128 line widths; half the usual 0.5/0.25 pair, so that small parts are not drowned. */
const WIDE = 0.25;
const NARROW = 0.13;

export function outlineSvg(contents: DrawingContents): string {
  const box = sheet(contents);
  const [x, y, w, h] = [box.minX, -box.maxY, box.maxX - box.minX, box.maxY - box.minY].map(exact);
  const name = escaped(contents.name);
  const parts = [
    ...contents.outlines.map((l, i) => loop(l, numbered(LAYERS.outline, i))),
    ...(contents.openings ?? []).map((l, i) => loop(l, `${LAYERS.opening.toLowerCase()}-${i + 1}`)),
    ...(contents.holes ?? []).map((hole, i) =>
      circle(hole.at, hole.diameter / 2, `${LAYERS.hole.toLowerCase()}-${i + 1}`),
    ),
  ];
  const tabs = (contents.tabs ?? []).map((t, i) => line(...tabEnds(t), `${LAYERS.tab.toLowerCase()}-${i + 1}`));
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg xmlns="http://www.w3.org/2000/svg" width="${w}mm" height="${h}mm" viewBox="${x} ${y} ${w} ${h}">`,
    `<title>${name}</title>`,
    '<desc>Millimetres, true size. The group part-zero stands at 0,0 of the part.</desc>',
    '<g id="part-zero"/>',
    `<g id="edges" fill="none" stroke="#000000" stroke-width="${WIDE}">`,
    ...parts,
    '</g>',
    ...(tabs.length === 0
      ? []
      : [
          `<g id="${TABS_ID}" fill="none" stroke="#000000" stroke-width="${NARROW}" stroke-dasharray="1.56 0.39">`,
          ...tabs,
          '</g>',
        ]),
    '</svg>',
    '',
  ].join('\n');
}

/** Whole millimetres round everything drawn. */
function sheet(contents: DrawingContents): Box {
  const boxes = [
    ...contents.outlines.map(loopBox),
    ...(contents.openings ?? []).map(loopBox),
    ...(contents.holes ?? []).map(({ at, diameter }) => ({
      minX: at.x - diameter / 2,
      minY: at.y - diameter / 2,
      maxX: at.x + diameter / 2,
      maxY: at.y + diameter / 2,
    })),
  ];
  const all = boxes.length === 0 ? { minX: 0, minY: 0, maxX: 0, maxY: 0 } : boxes.reduce(uniteBoxes);
  return {
    minX: Math.floor(all.minX) - MARGIN,
    minY: Math.floor(all.minY) - MARGIN,
    maxX: Math.ceil(all.maxX) + MARGIN,
    maxY: Math.ceil(all.maxY) + MARGIN,
  };
}

function numbered(name: string, index: number): string {
  return index === 0 ? name.toLowerCase() : `${name.toLowerCase()}-${index + 1}`;
}

function loop(l: Loop, id: string): string {
  const only = l[0]!;
  if (l.length === 1 && only.kind === 'arc') return circle(only.centre, only.radius, id);
  return `<path id="${id}" d="M${pair(only.a)} ${l.map(command).join(' ')} Z"/>`;
}

/** With Y turned, counter-clockwise is SVG's negative direction: sweep flag 0. */
function command(s: Segment): string {
  if (s.kind === 'line') return `L${pair(s.b)}`;
  const large = Math.abs(s.sweep) > Math.PI ? 1 : 0;
  return `A${exact(s.radius)} ${exact(s.radius)} 0 ${large} ${s.sweep > 0 ? 0 : 1} ${pair(s.b)}`;
}

function circle(centre: Point, radius: number, id: string): string {
  return `<circle id="${id}" cx="${exact(centre.x)}" cy="${exact(-centre.y)}" r="${exact(radius)}"/>`;
}

function line(a: Point, b: Point, id: string): string {
  return `<line id="${id}" x1="${exact(a.x)}" y1="${exact(-a.y)}" x2="${exact(b.x)}" y2="${exact(-b.y)}"/>`;
}

function pair(p: Point): string {
  return `${exact(p.x)},${exact(-p.y)}`;
}

function escaped(text: string): string {
  const named: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };
  return Array.from(text.replace(/[&<>"]/g, (c) => named[c]!))
    .filter((c) => c >= ' ')
    .join('');
}
