/** The facts at the head of the first page: part, material, stock, zero, what lies beneath, clamps. */
import type { Job } from '../../part/part.ts';
import { findMaterial } from '../../trade/materials/materials.ts';
import { esc } from '../markup/element.ts';
import { fig, placeText, sized, type Units } from './figures.ts';
import type { SheetInput } from './input.ts';
import { sawCut, supplyOf } from './tables/bar.ts';
import { type TouchOff, touchWords } from './touch-place.ts';

/** Pairs of a name and markup. */
export function factsOf(input: SheetInput, u: Units, touch: TouchOff | null): [string, string][] {
  return [
    ['Part', partWords(input, u)],
    ['Material', materialWords(input.job.material)],
    ['Stock', stockWords(input.job, u)],
    ['From bar', barWords(input.job, u)],
    ['Beneath', beneathWords(input.job, u)],
    ['Clamps', clampWords(input.job)],
    ['Zero X Y', zeroWords(input.job, u)],
    ['Zero Z', zWords(input, u, touch)],
  ];
}

function partWords(input: SheetInput, u: Units): string {
  const { job } = input;
  const mirrored = job.places.filter((p) => p.mirror).length;
  const hands = mirrored === 0 ? '' : `, ${mirrored} of them mirrored`;
  const count = job.places.length === 1 ? '1 off' : `${job.places.length} off from one plate${hands}`;
  return `${esc(job.name)}, ${fig('thickness', u.size(job.part.thickness))} ${u.name} thick; ${count}`;
}

function materialWords(name: string): string {
  const found = findMaterial(name);
  return found.kind === 'found' ? `${esc(name)} (${esc(found.value.words)})` : esc(name);
}

function stockWords(job: Job, u: Units): string {
  const { stock } = job;
  const [x, y, z] = [0, 1, 2].map((i) => u.size(stock.max[i]! - stock.min[i]!));
  const above =
    stock.above > 0
      ? `, of which ${fig('stock.above', u.size(stock.above))} ${u.name} stand above the finished top`
      : '';
  const measured =
    stock.measured === null
      ? `thickness not measured: measure it before you clamp it`
      : `measured ${fig('stock.measured', u.size(stock.measured))} thick`;
  return `${x} × ${y} × ${z} ${u.name}${above}; ${measured}; flat within ${fig('stock.flatness', u.size(stock.flatness))}`;
}

function barWords(job: Job, u: Units): string {
  const { stock } = job;
  const supply = supplyOf([stock.max[0] - stock.min[0], stock.max[1] - stock.min[1]], job.units);
  const parts = job.places.length;
  const each = (pieces: number): string => (parts === 1 ? `${pieces}` : `${pieces} plates, ${pieces * parts} parts`);
  if (supply.kind === 'plate') {
    return `wider than flat bar is usually sold: from a plate ${u.size(supply.size[0])} × ${sized(u, supply.size[1])}: ${each(supply.pieces)}`;
  }
  const counts = supply.pieces.map((p) => `${each(p.count)} from ${u.size(p.barLength)}`).join(', ');
  return `flat ${u.size(supply.width)} wide, cut ${u.size(supply.pieceLength)} long: ${counts} (${u.size(sawCut(job.units))} a saw cut)`;
}

function beneathWords(job: Job, u: Units): string {
  const { under } = job;
  const names = {
    plate: 'sacrificial plate',
    parallels: 'parallels',
    vice: 'the vice',
    table: 'the bare table',
  } as const;
  if (under.kind !== 'plate') return names[under.kind];
  return `${names.plate}, ${sized(u, under.thickness)} ${esc(under.material)}; the cut goes into it`;
}

function clampWords(job: Job): string {
  if (job.clamps.length === 0) return '<span class="mark">none stated: nothing says what holds the plate</span>';
  const blocks = job.clamps.filter((c) => c.kind === 'block').length;
  const jaws = job.clamps.filter((c) => c.kind === 'jaws').length;
  return [
    ...(blocks > 0 ? [`${blocks}, no higher than drawn; try each by hand`] : []),
    ...(jaws > 0 ? ['vice jaws as drawn, nothing above the stock'] : []),
  ].join('; ');
}

function zeroWords(job: Job, u: Units): string {
  const corner = { x: job.stock.min[0], y: job.stock.min[1] };
  const how = 'Edge finder on the left edge, then the front edge; allow for its radius';
  if (job.zero === 'stock') return `the stock's corner of least X and Y (left, front). ${how}.`;
  return `the 0,0 of part 1. The stock's left front corner is at ${placeText(u, corner)}. ${how}.`;
}

function zWords(input: SheetInput, u: Units, touch: TouchOff | null): string {
  const top = input.job.stock.max[2];
  const zero =
    top === 0
      ? 'Z0 is the top of the stock, which is the finished top face'
      : `Z0 is the finished top face, ${sized(u, top)} below the top of the stock`;
  if (touch === null) return `${zero}.`;
  return `${zero}. Touch off every cutter that the spindle drives at ${touchWords(input, u, touch)} (the cross in the drawing, never cut): <span class="mark">Z ${u.coord(touch.z)}</span> there.`;
}
