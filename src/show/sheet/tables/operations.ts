/** Operations in order: cutter, speed, feeds, passes, lines of the program, time. */

import { toDeg } from '../../../base/units.ts';
import type { Operation } from '../../../plan/plan.ts';
import { esc } from '../../markup/element.ts';
import { fileName, para, table } from '../../markup/html.ts';
import { duration, fig, type Units } from '../figures.ts';
import type { SheetInput } from '../input.ts';
import { minutesOf, secondsOf } from '../times.ts';
import { programUnits } from '../touch-place.ts';

export function operationTables(input: SheetInput, u: Units): string {
  return input.plan.setups.map((setup, i) => setupTable(input, u, i, setup.name, setup.operations)).join('\n');
}

function setupTable(
  input: SheetInput,
  u: Units,
  setup: number,
  name: string,
  operations: readonly Operation[],
): string {
  const rows = operations.map((o, j) => row(input, u, o, `setups.${setup}.operations.${j}`));
  const total = minutesOf(input, setup);
  const minutes = `Cutting time of this set-up, cutter changes and stops not counted: about ${fig(`setups.${setup}.minutes`, total.toFixed(2), 'plain')} min. Feed: at the edge on straights; F in the program is the cutter centre’s, lower down ramps and in hollows, higher round outer arcs.`;
  const head = table(
    [
      'no.',
      'operation',
      '#cutter',
      '#rev/min',
      `#${u.feedName}`,
      `#F in program, ${programUnits(input).feedName}`,
      `passes: Z, ${u.name}`,
      '#lines',
      '#time',
    ],
    rows,
    `Set-up ${setup + 1}: ${name}`,
  );
  return head + para(minutes) + engaged(input, setup, operations);
}

/** How far round the cutter bites: what makes a light machine groan. Of milling operations only. */
function engaged(input: SheetInput, setup: number, operations: readonly Operation[]): string {
  const words = operations.flatMap((o, j) => {
    const bite = input.moves.bites.find((b) => b.operation === o.id);
    if (bite === undefined) return [];
    const at = `setups.${setup}.operations.${j}.engagement`;
    const slots = bite.slots > 0.05 ? (bite.peak > 0 ? ', slots besides' : ', slots only') : '';
    return [
      `no. ${o.id + 1} ${fig(`${at}.peak`, (Math.round(toDeg(bite.peak) * 10) / 10).toString(), 'plain')}°${slots}`,
    ];
  });
  if (words.length === 0) return '';
  return para(`Greatest engagement of the cutter, entries left out (180° is a full slot): ${words.join('; ')}.`);
}

function row(input: SheetInput, u: Units, o: Operation, at: string): string[] {
  const seconds = secondsOf(input, o.id);
  return [
    `${o.id + 1}`,
    esc(o.title),
    fig(`${at}.cutter`, `${o.cutter}`, 'plain'),
    ...(o.speed === 0
      ? ['by hand', '', '']
      : [fig(`${at}.speed`, `${o.speed}`, 'plain'), fig(`${at}.feed`, u.feed(o.feed), 'feed'), feedsWritten(input, o)]),
    o.depths.map((d, i) => fig(`${at}.depths.${i}`, u.size(d))).join(', '),
    lines(input, o, at),
    seconds === null ? '' : duration(seconds),
  ];
}

/** Least and greatest F of the operation's lines, as the program spells them: the centre's feed. */
function feedsWritten(input: SheetInput, o: Operation): string {
  const words = input.programs.flatMap(({ operations, text }) => {
    const span = operations.find((x) => x.id === o.id);
    if (span === undefined) return [];
    const blocks = text.split('\n').slice(span.from - 1, span.to);
    return blocks.flatMap((b) => [...b.replace(/\([^)]*\)/g, '').matchAll(/F(\d*\.?\d+)/g)].map((m) => m[1]!));
  });
  const sorted = words.toSorted((a, b) => Number(a) - Number(b));
  const [least, most] = [sorted[0], sorted.at(-1)];
  if (least === undefined) return '';
  return least === most ? least : `${least} to ${most}`;
}

function lines(input: SheetInput, o: Operation, at: string): string {
  const several = input.programs.length > 1;
  for (const p of input.programs) {
    const span = p.operations.find((x) => x.id === o.id);
    if (span === undefined) continue;
    const text = `${fig(`${at}.blocks.0`, `${span.from}`, 'plain')} to ${fig(`${at}.blocks.1`, `${span.to}`, 'plain')}`;
    return several ? `${text} of ${fileName(p.file)}` : text;
  }
  return 'by hand';
}
