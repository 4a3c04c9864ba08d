/** The panel "At this moment": time, block, operation, place, loads and what holds the part, in words. */
import { fixed, short } from '../../../base/text.ts';
import { DWELL, HAND, RAPID } from '../data/moves-pack.ts';
import { type OpenProgram, operationAt, withinBlock } from './clock.ts';
import { byId, html, onFrame } from './elements.ts';
import { firstAtLeast } from './ordered.ts';
import type { Store } from './store.ts';
import { supportWords } from './support-words.ts';

export function momentPanel(store: Store): void {
  const draw = onFrame(() => {
    const list = byId('moment-facts');
    list.replaceChildren(...facts(store).flatMap(([k, v]) => [html('dt', {}, k), html('dd', {}, v)]));
    const holds = supportWords(store);
    byId('moment-holds').replaceChildren(...holds.map((w) => html('li', {}, w)));
  });
  store.listen((_, changed) => {
    if (changed.has('time') || changed.has('program') || changed.has('field')) draw();
  });
  draw();
}

function facts(store: Store): [string, string][] {
  const { program, state, moment } = store;
  const { view } = program;
  const operation = view.operations[operationAt(view, moment.block)];
  const number = store.cutterAt(moment.move);
  const { cutter } = store;
  const name = cutter
    ? `${number}: ${cutter.kind} ${short(cutter.diameter)} mm`
    : number === 0
      ? 'none yet'
      : `${number}`;
  const facts: [string, string][] = [
    ['Time', `${clockText(state.time)} of ${clockText(program.total)}`],
    ['Block', `${moment.block} of ${view.lines}`],
    ['Operation', operation?.title ?? ''],
    ['Cutter', name],
    ['Place', `X ${fixed(moment.at[0], 3)}  Y ${fixed(moment.at[1], 3)}  Z ${fixed(moment.at[2], 3)}`],
    ['Move', moveText(store)],
    ...loads(store),
  ];
  return facts.filter(([, words]) => words !== '');
}

export function clockText(seconds: number): string {
  const tenths = Math.round(seconds * 10);
  const m = Math.floor(tenths / 600);
  return `${m} min ${fixed((tenths - m * 600) / 10, 1)} s`;
}

function moveText({ program, moment }: Store): string {
  const { moves } = program;
  if (moves.kind[moment.move] === undefined) return 'none';
  const { number, of } = withinBlock(program, moment.move);
  const within = of === 1 ? '' : `, ${number} of ${of} in this block`;
  return kindText(program, moment.move) + within;
}

function kindText({ moves, view }: OpenProgram, move: number): string {
  const kind = moves.kind[move];
  if (kind === RAPID) return 'rapid';
  if (kind === HAND) return 'from a place set by hand';
  if (kind === DWELL) return 'dwell';
  return `feed ${short(view.feeds[moves.feed[move]!]!, 1)} mm/min`;
}

function loads(store: Store): [string, string][] {
  const { course } = store.program;
  if (course === null) return [['Holding', 'force, margin and movement were not worked out for this program']];
  const i = courseRow(store);
  if (i < 0 || course.force[i] === 0) return [['Load', 'nothing is cut']];
  const margin = course.margin[i]!;
  const movement = course.movement[i]!;
  const strength = `${short(margin, 2)} (wanted ${short(course.wantedMargin[i]!, 2)})`;
  const moves = `${short(movement, 4)} mm (wanted ${short(course.wantedMovement[i]!, 3)})`;
  return [
    ['Peak force', `${short(course.force[i]!, 0)} N, ${short(course.power[i]!, 0)} W`],
    ['Margin', Number.isNaN(margin) ? 'not in question: whole stock' : strength],
    ['Edge moves', Number.isNaN(movement) ? 'not worked out' : moves],
    ['Cutter bends', `${short(course.deflection[i]!, 4)} mm`],
  ];
}

/** Row of the course for the block of this moment; -1 for none. */
export function courseRow({ program, moment }: Store): number {
  const { course } = program;
  if (course === null) return -1;
  const i = firstAtLeast(course.block, moment.block);
  return course.block[i] === moment.block ? i : -1;
}
