/** Title block of the first page: the fields a drawing office asks for (ISO 7200), those of the person left blank. */

import { esc } from '../../markup/element.ts';
import type { Units } from '../figures.ts';
import type { SheetInput } from '../input.ts';
import { programUnits } from '../touch-place.ts';
import type { DrawingScale } from './scale.ts';

export function titleBlock(input: SheetInput, u: Units, scale: DrawingScale | null): string {
  const { job } = input;
  const rows: readonly (readonly (readonly [string, string])[])[] = [
    [
      ['set-up sheet of', esc(job.name)],
      ['material', esc(job.material)],
      ['scale', scale?.text ?? 'as drawn'],
      ['lengths', lengthWords(input, u)],
    ],
    [
      ['programs', programWords(input)],
      ['machine', '&nbsp;'],
      ['set up by', '&nbsp;'],
      ['date', '&nbsp;'],
    ],
  ];
  const body = rows.map((r) => `<tr>${r.map(([k, v]) => `<td><small>${k}</small>${v}</td>`).join('')}</tr>`).join('\n');
  return `<table class="title"><tbody>\n${body}\n</tbody></table>`;
}

function lengthWords(input: SheetInput, u: Units): string {
  const program = programUnits(input).name;
  if (u.name === program) return `${u.name}, also in the program`;
  return `${u.name}; <b>the program counts in ${program === 'in' ? 'inches' : program}</b>`;
}

function programWords(input: SheetInput): string {
  const files = input.programs.map((p) => esc(p.file));
  return files.length <= 2 ? files.join(', ') : `${files[0]} to ${files.at(-1)}`;
}
