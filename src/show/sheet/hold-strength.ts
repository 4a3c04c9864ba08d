/** How well the holding does along the program, and the other ways it could be done. */
import type { Course, WorstOnEdge } from '../../course/course.ts';
import { esc } from '../markup/element.ts';
import { sentence, table } from '../markup/html.ts';
import { fig, inProse, placeText, type Units } from './figures.ts';
import type { SheetInput } from './input.ts';

const HOLD = 'setups.0.hold';

/** Markup, a sentence each. */
export function strengthLines(input: SheetInput, u: Units): string[] {
  const { course } = input;
  if (course === null) return ['Strength and movement along the program were not worked out for this sheet.'];
  return [
    ...weakest(input, course, u),
    ...mostMoved(input, course, u),
    ...bending(course, u),
    ...rhythmLines(input, course, u),
  ];
}

function weakest(input: SheetInput, { margin }: Course, u: Units): string[] {
  if (margin === null) return [];
  const least = fig(`${HOLD}.margin.least`, margin.least.toFixed(1), 'plain');
  const wanted = fig(`${HOLD}.margin.wanted`, `${margin.wanted}`, 'plain');
  const weak =
    margin.least < margin.wanted ? ' <span class="mark">This is less than wanted: see the cautions.</span>' : '';
  return [
    `Weakest moment: strength is ${least} times the load (wanted ${wanted}), ${where(input, margin, u, 'margin')}.${weak}`,
  ];
}

function mostMoved(input: SheetInput, { movement }: Course, u: Units): string[] {
  if (movement === null) return [];
  const most = fig(`${HOLD}.movement.most`, u.coord(movement.most));
  const wanted = fig(`${HOLD}.movement.wanted`, u.size(movement.wanted));
  const way = movement.upwards ? 'upwards' : 'sideways';
  return [
    `The edge under the cutter moves ${most} ${u.name} at most, ${way} (wanted ${wanted}), ${where(input, movement, u, 'movement')}.`,
  ];
}

function where(input: SheetInput, f: WorstOnEdge, u: Units, entry: 'margin' | 'movement'): string {
  const file = input.programs.length > 1 ? ` of ${esc(input.programs[f.program]?.file ?? '')}` : '';
  const at = placeText(u, { x: f.at[0], y: f.at[1] });
  return `line ${fig(`${HOLD}.${entry}.block`, `${f.block}`, 'plain')}${file}, at ${at}, the part then ${esc(inProse(u, f.state))}`;
}

function bending(course: Course, u: Units): string[] {
  return [
    `The cutter itself bends ${fig(`${HOLD}.cutterDeflection`, u.coord(course.cutterDeflection))} ${u.name} at most on the edge.`,
  ];
}

/** One line an operation; what the screen says in words. */
function rhythmLines(input: SheetInput, course: Course, u: Units): string[] {
  const titles = new Map(input.plan.setups.flatMap((s) => s.operations.map((o) => [o.id, o.title] as const)));
  return course.rhythm.map(
    (r) => `${esc(sentence(titles.get(r.operation) ?? ''))} ${esc(sentence(inProse(u, r.says)))}`,
  );
}

export function comparedTable(input: SheetInput, u: Units): string {
  const rows = input.alternatives.map((s, i) => {
    const at = `setups.0.alternatives.${i}`;
    return [
      esc(inProse(u, s.name)),
      s.possible ? fig(`${at}.margin.least`, s.margin.least.toFixed(1), 'plain') : '',
      s.possible ? fig(`${at}.margin.wanted`, `${s.margin.wanted}`, 'plain') : '',
      s.possible ? fig(`${at}.movement.most`, u.coord(s.movement.most)) : '',
      fig(`${at}.effort`, s.effortMinutes.toFixed(0), 'plain'),
      esc(sentence(inProse(u, s.verdict))),
    ];
  });
  return table(
    ['by', '#strength ÷ load', '#wanted', `#movement, ${u.name}`, '#clean-up, min', 'verdict'],
    rows,
    'Other ways of holding, compared',
  );
}
