/**
 * Is each part, at every block, still joined by stock to something that holds it? Stock only ever goes, so between two changes
 * of what holds, a part that is joined at the end was joined all along; where it is not, the block is found by halving.
 */

import type { Mm } from '../../base/units.ts';
import { distanceToLoop } from '../../geometry/measure/distance.ts';
import { centreX, centreY, type Field } from '../../stock/field.ts';
import { firstWhere } from '../../stock/history.ts';
import { flood, islands } from '../field/flood.ts';
import type { Removal } from '../field/removal.ts';
import { eventsOf } from '../program/events.ts';
import type { FindingPlace, Findings } from '../report/findings.ts';
import type { Stroke } from '../strokes/stroke.ts';
import { firstStroke } from '../strokes/strokes.ts';
import type { Labels } from '../wanted/labels.ts';
import type { CheckedSetUp } from '../work.ts';
import { heldCells } from './support.ts';

export function checkHeld(work: CheckedSetUp, removal: Removal, labels: Labels, out: Findings): void {
  const { job, wanted, strokes, programs } = work;
  const head = programs[0]?.head ?? null;
  if (job.clamps.length === 0 && head?.hold?.by !== 'glue') {
    out.doubt('still held', 'the job names no clamps, so nothing is known to hold the stock');
    return;
  }
  const events = eventsOf(work);
  const moved = events.find((e) => e.event.kind === 'clamp');
  const known = moved === undefined ? events : events.slice(0, events.indexOf(moved));
  const stock = { work, removal, labels };
  const fitted: number[] = [];
  let held = true;
  for (const [i, phase] of [...known, { stroke: moved?.stroke ?? strokes.length, event: null }].entries()) {
    const from = i === 0 ? 0 : known[i - 1]!.stroke;
    const seeds = heldCells(removal.field, job, wanted, head, fitted);
    held = checkPhase({ from, to: phase.stroke, seeds }, stock, out) && held;
    if (phase.event?.kind === 'screws') fitted.push(...phase.event.holes);
  }
  if (moved !== undefined) {
    const after = `after block ${moved.event.block} a clamp is moved, and where it goes is not in the program`;
    out.doubt('still held', after);
    return;
  }
  if (!held) return;
  const says =
    'every part keeps a way through standing stock to a clamp, a screw or glue after every block; a way counts from 0.05 mm of stock and one cell on';
  out.prove('still held', removal.field.cell, 'none', says);
}

interface Phase {
  readonly from: number;
  readonly to: number;
  readonly seeds: readonly number[];
}

interface CutStock {
  readonly work: CheckedSetUp;
  readonly removal: Removal;
  readonly labels: Labels;
}

function checkPhase(phase: Phase, stock: CutStock, out: Findings): boolean {
  const { work, removal, labels } = stock;
  const { field } = removal;
  const heights = removal.at(phase.to);
  const joined = flood(field, heights, phase.seeds);
  let good = true;
  for (const part of work.wanted.parts) {
    if (!isLoose(part.index + 1, labels, joined)) continue;
    good = false;
    const k = firstWhere(phase.from, phase.to, (n) =>
      isLoose(part.index + 1, labels, flood(field, removal.at(n), phase.seeds)),
    );
    tellPart(part.index, work.strokes.at(k - 1), k < phase.to, out);
  }
  checkOffcuts(phase, stock, heights, joined, out);
  return good;
}

/** A part is loose when most of it is not joined to anything that holds. */
function isLoose(part: number, labels: Labels, joined: Uint8Array): boolean {
  let all = 0;
  let loose = 0;
  for (let k = 0; k < joined.length; k++) {
    if (labels.part[k] !== part) continue;
    all++;
    if (joined[k] === 0) loose++;
  }
  return all > 0 && loose > all / 2;
}

function tellPart(part: number, s: Stroke | undefined, goesOn: boolean, out: Findings): void {
  const at = s === undefined ? {} : { at: [s.path.b.x, s.path.b.y, s.zb] as const };
  out.fault({
    code: 'part-loose',
    at: { program: s?.program ?? 0, block: s?.block ?? 0, ...at },
    found: `part ${part + 1} is cut free${goesOn ? ' and the cutter goes on' : ''}`,
    wanted: 'tabs, a floor, screws, glue or a stub to the end: no program cuts the last support',
    remedy: 'leave tabs, or hold the part otherwise before this block',
  });
}

/** Area of loose pieces worth telling: smaller ones are swarf and rounding of cells. */
const LEAST_OFFCUT = 1;
/** Pieces looked at, the largest first: each takes a search through the strokes. A program that cuts more loose is refused. */
const MOST_OFFCUTS = 40;
/** A loose piece may shift by so much before the cutter comes to it. */
const SHIFT: Mm = 0.5;

function checkOffcuts(
  phase: Phase,
  { work, removal, labels }: CutStock,
  heights: Float32Array,
  joined: Uint8Array,
  out: Findings,
): void {
  const { field } = removal;
  const pieces = islands(field, heights, joined)
    .filter((cells) => cells.length * field.cell ** 2 >= LEAST_OFFCUT && !cells.some((k) => labels.part[k] !== 0))
    .sort((a, b) => b.length - a.length);
  if (pieces.length > MOST_OFFCUTS) tellMany(pieces.length, out);
  for (const cells of pieces.slice(0, MOST_OFFCUTS)) {
    const middle = cells[cells.length >> 1]!;
    const k = firstWhere(phase.from, phase.to, (n) => flood(field, removal.at(n), phase.seeds)[middle] === 0);
    // As high as it stood when it came loose: the cutter may mill it away itself.
    const loose = removal.at(k);
    const later = firstStroke(work.strokes.range(k, phase.to), (s) => !s.rapid && meets(s, cells, loose, field));
    const s = work.strokes.at(k - 1);
    const at = [centreX(field, middle % field.cols), centreY(field, Math.floor(middle / field.cols))] as const;
    const found = `a piece of ${(cells.length * field.cell ** 2).toFixed(1)} mm2 comes loose`;
    tellOffcut({ program: s?.program ?? 0, block: s?.block ?? 0, at }, found, later, out);
  }
}

function tellMany(count: number, out: Findings): void {
  const found = `${count} pieces come loose`;
  const wanted = `at most ${MOST_OFFCUTS}, each taken out by hand`;
  const remedy = 'clear the pieces away by cutting all of them';
  out.fault({ code: 'offcut-loose', at: { program: 0, block: 0 }, found, wanted, remedy });
}

function meets(s: Stroke, cells: readonly number[], heights: Float32Array, f: Field): boolean {
  const reach = s.tool.shape.radius + SHIFT;
  // Every few cells are enough for a piece much larger than a cell.
  const every = Math.max(1, Math.floor(cells.length / 400));
  for (let i = 0; i < cells.length; i += every) {
    const k = cells[i]!;
    if (s.low >= heights[k]!) continue;
    const p = { x: centreX(f, k % f.cols), y: centreY(f, Math.floor(k / f.cols)) };
    if (p.x < s.box.minX - reach || p.x > s.box.maxX + reach || p.y < s.box.minY - reach || p.y > s.box.maxY + reach)
      continue;
    if (distanceToLoop([s.path], p) < reach) return true;
  }
  return false;
}

/** `later`: the stroke that comes near the piece again. */
function tellOffcut(at: FindingPlace, found: string, later: Stroke | undefined, out: Findings): void {
  const code = 'offcut-loose';
  const wanted = 'no loose piece near a turning cutter';
  if (later === undefined)
    out.caution({ code, at, found, wanted, remedy: 'expect it, and stop before picking it out' });
  else if (later.program !== at.program)
    out.caution({ code, at, found, wanted: 'taken out before the next program', remedy: 'take it out at the stop' });
  else {
    const again = `${found} and the cutter comes near it again at block ${later.block}`;
    const remedy = 'clear the piece away by cutting all of it, or stop to take it out';
    out.fault({ code, at, found: again, wanted, remedy });
  }
}
