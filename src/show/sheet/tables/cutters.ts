/** Cutters in order of use, with what each needs in the spindle. */
import type { Cutter } from '../../../part/part.ts';
import { esc } from '../../markup/element.ts';
import { table } from '../../markup/html.ts';
import { fig, type Units } from '../figures.ts';
import type { SheetInput } from '../input.ts';

export function cutterTable(input: SheetInput, u: Units): string {
  const operations = input.plan.setups.flatMap((s, i) =>
    s.operations.map((o, j) => ({ o, at: `setups.${i}.operations.${j}` })),
  );
  const rows = input.plan.cutters.map((c, i) => {
    const used = operations.filter(({ o }) => o.cutter === c.number);
    const at = `cutters.${i}`;
    return [
      fig(`${at}.number`, `${c.number}`, 'plain') + (c.fromDrawer ? ' *' : ''),
      kindWords(c, at, u),
      fig(`${at}.diameter`, u.size(c.diameter)) +
        (c.diameter === c.nominal ? '' : ` (marked ${fig(`${at}.nominal`, u.size(c.nominal))})`),
      fig(`${at}.stickOut`, u.size(c.stickOut)),
      `${fig(`${at}.holder.diameter`, u.size(c.holder.diameter))} × ${fig(`${at}.holder.length`, u.size(c.holder.length))}`,
      figures(used.map(({ o, at: path }) => ({ text: `${o.speed}`, path: `${path}.speed`, measures: 'plain' }))),
      figures(used.map(({ o, at: path }) => ({ text: u.feed(o.feed), path: `${path}.feed`, measures: 'feed' }))),
      used.map(({ o }) => o.id + 1).join(', '),
    ];
  });
  return table(
    ['no.', 'cutter', '#diameter', '#stick-out', '#holder', '#rev/min', `#${u.feedName}`, 'operations'],
    rows,
    `Cutters in order of use, ${u.name}: the diameter the program reckons with; holder diameter × length`,
  );
}

/** What to have at hand, in two columns; the table with speeds and feeds is on the next page. */
export function cutterList(input: SheetInput, u: Units): string {
  const items = input.plan.cutters.map((c, i) => {
    const at = `cutters.${i}`;
    return `<li><b>${fig(`${at}.number`, `${c.number}`, 'plain')}${c.fromDrawer ? ' *' : ''}</b> ${nameWords(c)} ${fig(`${at}.diameter`, u.size(c.diameter))}, stick out ${fig(`${at}.stickOut`, u.size(c.stickOut))}</li>`;
  });
  const star = input.plan.cutters.some((c) => c.fromDrawer) ? '; * from the stated drawer: measure yours' : '';
  return `<p><b>Cutters in order of use, ${u.name}</b>; speeds, feeds and holders: see “Cutters”${star}</p><ul class="n3 plain">${items.join('')}</ul>`;
}

interface CutterFigure {
  readonly text: string;
  readonly path: string;
  readonly measures: 'plain' | 'feed';
}

/** Least and greatest; the table of operations has each. */
function figures(all: readonly CutterFigure[]): string {
  const sorted = all.toSorted((a, b) => Number(a.text) - Number(b.text));
  const [least, most] = [sorted[0], sorted.at(-1)];
  if (least === undefined || most === undefined) return '';
  if (most.text === '0') return 'by hand';
  const shown = least.text === most.text ? [least] : [least, most];
  return shown.map((s) => fig(s.path, s.text, s.measures)).join(' to ');
}

function kindWords(c: Cutter, at: string, u: Units): string {
  const flat = c.tip > 0 ? ` with a flat of ${fig(`${at}.tip`, u.size(c.tip))}` : '';
  const point = c.pointDeg < 180 ? `, ${c.pointDeg}° point${flat}` : '';
  const teeth = `, ${c.flutes} ${c.flutes === 1 ? 'tooth' : 'teeth'}`;
  const corner = c.cornerRadius > 0 ? ', rounded corners' : '';
  return `${nameWords(c)}${point}${corner}, ${c.material}${teeth}`;
}

/** A tap by its thread, which its diameter alone does not say. */
function nameWords(c: Cutter): string {
  return c.thread === null ? c.kind : `${c.kind} ${esc(c.thread)}`;
}

/** Said under the table when a cutter carries the star. */
export function drawerNote(input: SheetInput): string {
  return input.plan.cutters.some((c) => c.fromDrawer)
    ? '<p>* from the stated drawer, not from the job: measure yours before you trust its diameter and stick-out.</p>'
    : '';
}
