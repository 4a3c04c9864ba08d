/** How the part is held, in sentences and as a table of tabs. */

import { esc } from '../markup/element.ts';
import { list, sentence, table } from '../markup/html.ts';
import { fig, inProse, sized, type Units } from './figures.ts';
import { comparedTable, strengthLines } from './hold-strength.ts';
import type { SheetInput } from './input.ts';

/** The one line of the first page. */
export function holdLine(input: SheetInput, u: Units): string {
  const { holding: h } = input;
  const n = h.tabs.length;
  const tabs = n === 0 ? [] : [`${n} tab${n === 1 ? '' : 's'} (${tabList(input)})`];
  const ways: Readonly<Record<typeof h.by, string[]>> = {
    tabs,
    floor: h.floor === null ? [] : [`a floor of ${sized(u, h.floor)} left beneath`, ...tabs],
    screws: [screwWords(input), ...tabs],
    glue: ['glue over the whole lower face, down to the backing plate', ...tabs],
    stub: [...stubWords(input, u), ...tabs],
  };
  const subject = input.job.places.length === 1 ? 'The part is' : 'The parts are';
  const edges = input.job.part.edgeHoles.length;
  const then =
    edges === 0 ? '' : ` Then ${edges === 1 ? 'a set-up' : `${edges} set-ups`} on edge: see “Parts on edge”.`;
  return `${subject} held by ${ways[h.by].join(', and by ')}. No program cuts the last support: you do, at the bench.${then}`;
}

function tabList(input: SheetInput): string {
  const { tabs } = input.holding;
  return tabs.length === 1 ? 'T1' : `T1 to T${tabs.length}`;
}

function stubWords({ holding: { stubs } }: SheetInput, u: Units): string[] {
  const first = stubs[0];
  if (first === undefined) return [];
  const each = stubs.length > 1 ? 'one stub each,' : 'a stub';
  return [`${each} ${sized(u, first.width)} wide and as thick as the plate, sawn through at the end`];
}

function screwWords({ holding }: SheetInput): string {
  const holes = holding.screws.map((i) => i + 1).join(', ');
  const thread = holding.screwThread === null ? 'screws' : `${holding.screwThread} screws`;
  return `${thread} through ${holding.screws.length === 1 ? 'hole' : 'holes'} ${holes} into the backing plate`;
}

export function holdDetails(input: SheetInput, u: Units): string {
  const { holding: h } = input;
  const rail =
    h.rail > 0
      ? [`Least width of the frame round the parts: ${fig('setups.0.hold.rail', u.size(h.rail))} ${u.name}.`]
      : [];
  return [
    tabTable(input, u),
    list([...rail, ...h.reasons.map((r) => esc(sentence(inProse(u, r)))), ...strengthLines(input, u)]),
    comparedTable(input, u),
  ].join('\n');
}

function tabTable(input: SheetInput, u: Units): string {
  const rows = input.holding.tabs.map((t, i) => {
    const at = `setups.0.hold.tabs.${i}`;
    return [
      `T${i + 1}`,
      `${t.part + 1}`,
      fig(`${at}.at.0`, u.coord(t.at.x)),
      fig(`${at}.at.1`, u.coord(t.at.y)),
      `${fig(`${at}.direction`, t.directionDeg.toFixed(1), 'plain')}°`,
      fig(`${at}.width`, u.size(t.width)),
      fig(`${at}.cutHeight`, u.size(t.cutHeight)),
      fig(`${at}.height`, u.size(t.height)),
      fig(`${at}.footprint`, u.size(t.footprint)),
    ];
  });
  const figures = ['#X', '#Y', '#outward', '#waist', '#height as cut', '#height left', '#edge not cut to depth'];
  return table(
    ['tab', 'part', ...figures],
    rows,
    `Tabs, ${u.name}; heights up from the lower face, outward direction from X+ counter-clockwise`,
  );
}

export function faultLine(input: SheetInput): string {
  const n = input.report.faults.length;
  if (n === 0) return '';
  const more = n > 3 ? ['and more: see “What the check says”'] : [];
  const faults = input.report.faults.slice(0, 3).map((f) => esc(sentence(`${f.found}; wanted ${f.wanted}`)));
  return `<div class="held">NOT RELEASED: the check found ${n} fault${n === 1 ? '' : 's'}. Do not run these programs.${list([...faults, ...more])}</div>`;
}
