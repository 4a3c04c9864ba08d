/** What to do at every stop, where the program may be begun again, and what to do after a power failure. */

import { placedParts } from '../../../part/placed.ts';
import type { Move } from '../../../paths/moves.ts';
import { esc } from '../../markup/element.ts';
import { fileName, list, oneLine, sentence, table } from '../../markup/html.ts';
import { placeText, type Units } from '../figures.ts';
import type { SheetInput } from '../input.ts';
import { type TouchOff, touchWords } from '../touch-place.ts';

export function stopTable(input: SheetInput): string {
  const several = input.programs.length > 1;
  const rows = input.moves.programs.flatMap((p, i) =>
    p.moves.flatMap((move, index) => {
      if (move.kind !== 'change' && move.kind !== 'stop') return [];
      const line = input.programs[i]?.moveOfLine.indexOf(index) ?? -1;
      const where = line < 0 ? '' : `${line + 1}`;
      const file = several ? [fileName(input.programs[i]?.file ?? '')] : [];
      return [[...file, where, why(move), words(move)]];
    }),
  );
  const columns = [...(several ? ['program'] : []), '#line', 'why', 'what to do'];
  return table(columns, rows) + list(EVERY_STOP.map(esc));
}

type Stop = Extract<Move, { kind: 'change' | 'stop' }>;

const WHY: Readonly<Record<string, string>> = {
  swarf: 'swarf',
  measure: 'measuring',
  tap: 'tapping',
  screws: 'screws',
  'turn over': 'part on edge',
};

function why(move: Stop): string {
  return oneLine(move.kind === 'change' ? 'cutter change' : (WHY[move.why] ?? move.why));
}

function words(move: Stop): string {
  return move.lines.map((l) => esc(sentence(l))).join(' ');
}

const EVERY_STOP: readonly string[] = [
  'At every stop: the spindle is off and Z is up. Wait until it stands still before a hand goes near.',
  'After every cutter change: check the stick-out, touch off at the marked place, set Z to the figure given, then start again. A tap turned by hand needs no touching off.',
  'Before touching off, and before the through pass and the finishing pass: brush the swarf out of the slot and off the touch place. A chip under the cutter is an error of its own thickness.',
  'Measuring: stop the spindle, brush clean, measure; do not move X or Y off their readings.',
  'Tapping by hand: with the part still in the plate, the tap guided square, a drop of cutting oil; back a half turn for each turn forward.',
  'Screws: fit them where the program stops for them, tighten evenly, and see that every head is below the path of cutter and holder.',
];

export function restartTable(input: SheetInput): string {
  const several = input.programs.length > 1;
  const rows = input.programs.flatMap((p) =>
    p.restarts.map((r) => {
      const id = p.operations.find((o) => o.from <= r.block && r.block <= o.to)?.id;
      const cutter = input.plan.setups.flatMap((s) => s.operations).find((o) => o.id === id)?.cutter;
      return [
        ...(several ? [fileName(p.file)] : []),
        `${r.block}`,
        cutter === undefined ? '' : `${cutter}`,
        esc(r.title),
      ];
    }),
  );
  return table(
    [...(several ? ['program'] : []), '#line', '#cutter', 'begins'],
    rows,
    `Lines at which the program may be begun again. Run ${stateLines(input)} first: it says units, plane and modes; all else follows each line`,
  );
}

/** The line of each program that sets the modes, which a control does not keep when it is switched off. */
function stateLines(input: SheetInput): string {
  const lines = input.programs.map((p) => p.text.split('\n').findIndex((l) => l.startsWith('G17 ')) + 1);
  if (new Set(lines).size === 1) return `line ${lines[0]} (G17 …)${lines.length > 1 ? ' of that program' : ''}`;
  return `that program’s line that begins G17 (${lines.join(', ')} in turn)`;
}

/** In the order it is done. */
export function powerFailure(input: SheetInput, u: Units, touch: TouchOff | null): string {
  const corner = { x: input.job.stock.min[0], y: input.job.stock.min[1] };
  const reamed = placedParts(input.job)[0]?.holes.find(({ hole }) => hole.make.kind === 'ream');
  const bore =
    reamed === undefined
      ? ''
      : `, or hole ${reamed.hole.index + 1} of part 1 once it is reamed (${placeText(u, reamed.at)})`;
  const z =
    touch === null
      ? 'Touch off the cutter again as at its change.'
      : `Touch off the cutter at ${touchWords(input, u, touch)}: Z ${u.coord(touch.z)} there.`;
  return list(
    [
      'Switch the spindle off at its own switch. Turn the cutter free by hand if it stands in the cut; raise Z by hand before X or Y moves at all.',
      'Look at the part: is every tab, screw or floor that should hold it still whole? If not, stop here and finish at the bench.',
      `Find X and Y again: the frame’s left front corner (${placeText(u, corner)})${bore}. A reading kept by the control is not to be trusted: steps are lost when the power goes.`,
      z,
      ...(input.job.part.edgeHoles.length === 0
        ? []
        : [
            'A part on edge: X 0, Y 0 and Z 0 are found again on its boss: its middle, the middle of the thickness, its crown.',
          ]),
      `Run ${stateLines(input)} by itself, then begin at the line of the operation that was under way, never in the middle of it. Cutting air where it has been is no harm.`,
      'First with the cutter well above the work and the spindle off, then in earnest at reduced feed.',
    ],
    'ol',
  );
}
