/** The hole table, its limits, gauges and mating shafts. */
import { fixed, short } from '../../../base/text.ts';
import type { Mm } from '../../../base/units.ts';
import type { Hole } from '../../../part/part.ts';
import { placedParts } from '../../../part/placed.ts';
import { FITS } from '../../../trade/fits.ts';
import { shaftLimits } from '../../../trade/iso286.ts';
import { engagementOf, findThread } from '../../../trade/threads/threads.ts';
import { esc } from '../../markup/element.ts';
import { oneLine, para, table } from '../../markup/html.ts';
import type { Units } from '../figures.ts';
import { holeWords, makeWords } from '../hole-words.ts';
import type { SheetInput } from '../input.ts';

export function holeTables(input: SheetInput, u: Units): string {
  const { holes, edgeHoles } = input.job.part;
  if (holes.length === 0) return edgeHoles.length === 0 ? '' : edgeHoleTable(input, u);
  return [placesTable(input, u), sizesTable(input, u), shaftTable(input, u), edgeHoleTable(input, u)].join('\n');
}

/** Where: every hole of every part, from the zero. */
function placesTable(input: SheetInput, u: Units): string {
  const rows = placedParts(input.job).flatMap((p) =>
    p.holes.map(({ hole, at }) => [
      `${hole.index + 1}`,
      `${p.index + 1}${p.place.mirror ? ' mirrored' : ''}`,
      u.coord(at.x),
      u.coord(at.y),
      esc(holeWords(u, hole)),
    ]),
  );
  return table(['hole', 'part', '#X', '#Y', 'what'], rows, `Places from the zero, ${u.name}`);
}

function sizesTable(input: SheetInput, u: Units): string {
  const rows = input.job.part.holes.map((h) => [
    `${h.index + 1}`,
    oneLine(makeWords(u, h.make, h.diameter)),
    ...sizeCells(u, h),
  ]);
  return table(['hole', 'what', `#limits, ${u.name}`, '#limits, µm', 'gauge'], rows, 'Sizes');
}

function sizeCells(u: Units, h: Hole): string[] {
  if (h.make.kind === 'tap') return tappedCells(u, h, h.make.thread);
  if (h.limits === null) return [u.size(h.diameter), '', 'as the drill leaves it'];
  const { least, most } = h.limits;
  const nominal = h.make.kind === 'ream' || h.make.kind === 'bore' ? h.make.nominal : h.diameter;
  return [
    `${u.coord(least)} to ${u.coord(most)}`,
    `${micrometres(least - nominal)} / ${micrometres(most - nominal)}`,
    `GO ${u.coord(least)}, NOT GO ${u.coord(most)}`,
  ];
}

/** A thread is judged on its bore before tapping and with a thread gauge or the screw after. */
function tappedCells(u: Units, h: Hole, name: string): string[] {
  const thread = findThread(name);
  const percent =
    thread.kind === 'found'
      ? `, ${short(engagementOf(thread.value, h.diameter, 'overlap'), 0)} % of the ISO overlap`
      : '';
  const gauge = `µm from the tapping drill ${u.size(h.diameter)}${percent}; then a thread gauge ${esc(name)}, or the screw itself`;
  if (h.limits === null) return ['', '', gauge];
  const { least, most } = h.limits;
  return [
    `bore ${u.coord(least)} to ${u.coord(most)}`,
    `${micrometres(least - h.diameter)} / ${micrometres(most - h.diameter)}`,
    gauge,
  ];
}

/** Signed, as on drawings: `+12`, `0`, `-4`. */
export function micrometres(v: Mm): string {
  const text = fixed(v * 1000, 0);
  return text === '0' || text.startsWith('-') ? text : `+${text}`;
}

/** Shafts that suit each fitted bore: hole-basis fits of the trade table. */
function shaftTable(input: SheetInput, u: Units): string {
  const fitted = new Map<string, { nominal: Mm; fit: string; holes: number[] }>();
  for (const h of input.job.part.holes) {
    const { make } = h;
    if ((make.kind !== 'ream' && make.kind !== 'bore') || make.fit === null) continue;
    const key = `${make.nominal} ${make.fit}`;
    const entry = fitted.get(key) ?? { nominal: make.nominal, fit: make.fit, holes: [] };
    entry.holes.push(h.index + 1);
    fitted.set(key, entry);
  }
  const rows = [...fitted.values()].flatMap(({ nominal, fit, holes }) =>
    FITS.filter((f) => f.hole === fit).flatMap((f) => {
      const limits = shaftLimits(nominal, f.shaft);
      if (limits.kind === 'unknown') return [];
      return [
        [
          holes.join(', '),
          `${u.size(nominal)} ${fit}/${f.shaft}`,
          `${u.coord(nominal + limits.lower / 1000)} to ${u.coord(nominal + limits.upper / 1000)}`,
          `${micrometres(limits.lower / 1000)} / ${micrometres(limits.upper / 1000)}`,
          `${f.feel}: ${f.use}`,
        ],
      ];
    }),
  );
  return table(['hole', 'fit', `#shaft, ${u.name}`, '#shaft, µm', 'what it gives'], rows, 'Mating shafts (ISO 286-2)');
}

function edgeHoleTable(input: SheetInput, u: Units): string {
  const rows = input.job.part.edgeHoles.map((e) => [
    `E${e.index + 1}`,
    `boss ${e.boss + 1}`,
    `${short(e.directionDeg, 2)}°`,
    esc(makeWords(u, e.make, e.diameter)),
    u.size(e.depth),
  ]);
  const note =
    rows.length === 0
      ? ''
      : para(
          'Holes from the edge stand at mid-thickness; the direction is in the part’s own axes, from X counter-clockwise.',
        );
  return table(['hole', 'towards', '#direction', 'what', `#depth, ${u.name}`], rows, 'Holes from the edge') + note;
}
