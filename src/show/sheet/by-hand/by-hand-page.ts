/** The page of figures for a mill without CNC: readout and rotary table. */

import type { Mm } from '../../../base/units.ts';
import type { Cutter } from '../../../part/part.ts';
import { placedParts } from '../../../part/placed.ts';
import type { Operation } from '../../../plan/plan.ts';
import { esc } from '../../markup/element.ts';
import { list, para, table } from '../../markup/html.ts';
import { degrees, sized, turnText, type Units } from '../figures.ts';
import { holeWords } from '../hole-words.ts';
import { cutterOf, plateOperations, type SheetInput } from '../input.ts';
import { type Centre, centresOf, type HandFigures, type HandStep, handFigures, type KnownFigures } from './by-hand.ts';
import { tabStretches } from './hand-tabs.ts';

export function byHand(input: SheetInput, u: Units): string {
  const tools = profileTools(input);
  const profile = tools === null ? para('The plan has no profile to cut.') : profiles(input, u, tools);
  return [how(input, u, tools), holesByHand(input, u), profile, pocketsByHand(input, u)].join('\n');
}

interface ProfileTools {
  /** All that go round the outline, in order. */
  readonly passes: readonly Operation[];
  readonly chamfer: Operation | null;
  /** The last to go round. */
  readonly cutter: Cutter;
  /** How much farther from the edge the first cutter's centre runs than the last one's. */
  readonly farther: Mm;
}

function profileTools(input: SheetInput): ProfileTools | null {
  const all = plateOperations(input);
  const passes = all.filter((o) => o.target.kind === 'outline');
  const chamfer = all.find((o) => o.target.kind === 'edges') ?? null;
  const cutter = cutterOf(input, passes.at(-1)?.cutter);
  if (cutter === undefined) return null;
  const first = passes[0];
  const rougher = cutterOf(input, first?.cutter) ?? cutter;
  const farther = (first?.allowance ?? 0) + (rougher.diameter - cutter.diameter) / 2;
  return { passes, chamfer, cutter, farther };
}

function how(input: SheetInput, u: Units, tools: ProfileTools | null): string {
  const items = [
    'Readout on X and Y, set to the zero of the drawing on the first page; heights by the quill or the Z readout, touched off as there. Take up backlash from the same side every time.',
    'Go round the part counter-clockwise, seen from above: the cutter then feeds against its teeth and cannot pull the table along. Lock every slide that is not being moved.',
    'Rotary table: bring its centre under the spindle with the readout and set the readout to 0,0 there. Bring each centre of the work over it in turn, as listed, and clamp the plate again on its frame, never on the part.',
    'Angles: table at 0 with the reference line of the centre pointing to X+. An angle is how far the work is turned clockwise, seen from above; if your table’s graduations count the other way, read 360 less it.',
    'An arc: set X to the radius from the table’s centre, Y to 0, lock both, and turn from one angle to the other. A flank: turn to its angle, lock the table, set Y, feed X from one figure to the other.',
    'At an outside corner run on until the cutter is clear, then turn and come in again from outside. Into an inside corner stop at the figure.',
  ];
  const passes = tools === null ? '' : passWords(input, u, tools);
  return list(items.map(esc)) + passes;
}

function passWords(input: SheetInput, u: Units, tools: ProfileTools): string {
  const rows = tools.passes.map((o) => {
    const cutter = cutterOf(input, o.cutter);
    return [
      esc(o.title),
      `${o.cutter}: ${cutter?.kind ?? ''} ${u.size(cutter?.diameter ?? 0)}`,
      `${o.speed}`,
      u.feed(o.feed),
      u.size(o.allowance),
      o.depths.map((d) => u.size(d)).join(', '),
    ];
  });
  return (
    table(
      [
        'pass',
        'cutter',
        '#rev/min',
        `#at most, ${u.feedName}`,
        `#left standing, ${u.name}`,
        `Z of each pass, ${u.name}`,
      ],
      rows,
      'Depths and feeds',
    ) + chamferWords(u, tools)
  );
}

/** The chamfer follows the finishing figures at another distance from the edge. */
function chamferWords(u: Units, { chamfer, cutter }: ProfileTools): string {
  if (chamfer?.target.kind !== 'edges') return '';
  const nearer = cutter.diameter / 2 - chamfer.target.reach;
  const where = nearer >= 0 ? `${u.coord(nearer)} nearer to the edge` : `${u.coord(-nearer)} farther from the edge`;
  return para(
    `Chamfer: cutter ${chamfer.cutter} at Z ${u.size(chamfer.depths.at(-1) ?? 0)}, every finishing setting ${where} (${u.name}); or by file, the part held.`,
  );
}

/** Every hole with all that is done to it, in the order of the plan. */
function holesByHand(input: SheetInput, u: Units): string {
  const operations = plateOperations(input);
  const rows = placedParts(input.job).flatMap((p) =>
    p.holes.map(({ hole, at }) => {
      const done = operations.filter(
        (o) =>
          (o.target.kind === 'holes' || o.target.kind === 'bore') &&
          o.target.holes.some((h) => h.part === p.index && h.hole === hole.index),
      );
      const steps = done.map((o) => {
        const c = cutterOf(input, o.cutter);
        return `${o.what} ${u.size(c?.diameter ?? 0)} to Z ${u.size(o.depths.at(-1) ?? 0)} ${o.speed === 0 ? 'by hand' : `at ${o.speed}`}`;
      });
      const names = [`${p.index + 1}`, `${hole.index + 1}`];
      return [...names, u.coord(at.x), u.coord(at.y), esc(holeWords(u, hole)), esc(steps.join('; '))];
    }),
  );
  return table(
    ['part', 'hole', '#X', '#Y', 'what', `steps: cutter, Z of its end, rev/min`],
    rows,
    `Holes: readout from the zero, ${u.name}`,
  );
}

function profiles(input: SheetInput, u: Units, tools: ProfileTools): string {
  return placedParts(input.job)
    .map((p) => {
      const name = input.job.places.length > 1 ? `Part ${p.index + 1}${p.place.mirror ? ', mirrored' : ''}` : 'Profile';
      const centres = centresOf(input.job, input.job.part.outline, p.place);
      const radius = tools.cutter.diameter / 2;
      const figures = handFigures({ edge: p.outline, side: 'outside', centres, radius, farther: tools.farther });
      return `<h3>${name}</h3>${profile(input, u, figures, p.index, radius)}`;
    })
    .join('\n');
}

function profile(input: SheetInput, u: Units, figures: HandFigures, part: number, radius: Mm): string {
  if (figures.kind === 'too many') {
    return para(
      `The outline has ${figures.count} pieces: a curve of that many is not one to turn by hand. Mark it out, drill chain holes, and file to the line.`,
    );
  }
  return figureTables(u, figures, radius, tabTable(input, u, figures, part, radius));
}

/** `tabs`: the table of the stretches over tabs, where there are any. */
function figureTables(u: Units, figures: KnownFigures, radius: Mm, tabs?: string): string {
  const { centres, steps, short } = figures;
  const corners =
    short.length === 0
      ? ''
      : para(`Inside corners sharper than the cutter end these short and stay round: ${esc(short.join('; '))}.`);
  const tables = [centreTable(u, centres), tableFigures(u, steps), tabs, readoutTable(u, steps, radius), corners];
  return tables.filter((t) => t !== undefined).join('\n');
}

function centreTable(u: Units, centres: readonly Centre[]): string {
  return table(
    ['centre', '#X', '#Y', 'reference line, table at 0'],
    centres.map((c) => [esc(c.name), u.coord(c.at.x), u.coord(c.at.y), esc(c.reference.words)]),
    `Centres to bring over the rotary table, from the zero, ${u.name}`,
  );
}

function tableFigures(u: Units, steps: readonly HandStep[]): string {
  const rows = steps.map((s) => {
    const names = [esc(s.name), esc(s.centre.name)];
    if (s.kind === 'arc')
      return [...names, turnText(s.from, s.to), `X ${u.coord(s.radius)}`, `X ${u.coord(s.rough)}`, 'Y 0'];
    const along = `X ${u.coord(s.fromX)} to ${u.coord(s.toX)}`;
    return [...names, `${degrees(s.turn)}°`, `Y ${u.coord(s.y)}`, `Y ${u.coord(s.rough)}`, along];
  });
  return table(
    ['piece', 'on centre', '#table', '#set, finishing', '#set, roughing', '#and'],
    rows,
    `Rotary table: readout from the table’s centre, ${u.name}`,
  );
}

function tabTable(input: SheetInput, u: Units, figures: KnownFigures, part: number, radius: Mm): string {
  const { thickness } = input.job.part;
  const kept = [
    ...input.holding.tabs.map((t, i) => ({
      ...t,
      name: `T${i + 1}`,
      cut: u.size(t.cutHeight - thickness),
      left: t.height < t.cutHeight ? u.size(t.height - thickness) : '',
    })),
    // Both ends of this stretch are where the cutter turns back at every depth.
    ...input.holding.stubs.map((s) => ({ ...s, name: 'stub', cut: 'not cut', left: '' })),
  ];
  const rows = kept.flatMap((t) => {
    if (t.part !== part) return [];
    const stretches = tabStretches(figures, t, radius);
    return stretches.map(({ step, from, to, a, b }) => {
      const along = step?.kind === 'arc' ? turnText(from, to) : `X ${u.coord(from)} to ${u.coord(to)}`;
      const ends = [a, b].map((p) => `${u.coord(p.x)}, ${u.coord(p.y)}`);
      return [t.name, esc(step?.name ?? 'round the corner'), step === null ? '' : along, ...ends, t.cut, t.left];
    });
  });
  return table(
    ['tab', 'on', '#from … to', '#cutter from X, Y', '#to X, Y', '#not below Z', '#thinned last to Z'],
    rows,
    `Tabs: over these stretches the cutter stays up, ${u.name}`,
  );
}

function readoutTable(u: Units, steps: readonly HandStep[], radius: Mm): string {
  const rows = steps.map((s) => {
    const { a, b } = s.path;
    const ends = [a.x, a.y, b.x, b.y].map(u.coord);
    if (s.kind === 'flank') return [esc(s.name), ...ends, '', ''];
    const { x, y } = s.path.centre;
    return [esc(s.name), ...ends, `${u.coord(x)}, ${u.coord(y)}`, u.coord(s.radius)];
  });
  return table(
    ['piece', '#start X', '#start Y', '#end X', '#end Y', '#arc centre X, Y', '#radius'],
    rows,
    `Cutter centre, finishing: readout from the zero, cutter radius ${sized(u, radius)}`,
  );
}

/** The wall of each pocket, the cutter inside; its middle is cleared first, by straight passes that stay inside the wall. */
function pocketsByHand(input: SheetInput, u: Units): string {
  const operations = plateOperations(input);
  return placedParts(input.job)
    .flatMap((p) =>
      p.pockets.map(({ edge, islands }, i) => {
        const o = operations.filter((x) => x.target.kind === 'pocket' && x.target.pocket === i).at(-1);
        const cutter = cutterOf(input, o?.cutter);
        if (o === undefined || cutter === undefined) return '';
        const pocket = input.job.part.pockets[i]!;
        const [radius, { outline, depth }] = [cutter.diameter / 2, pocket];
        const centres = centresOf(input.job, outline, p.place);
        const figures = handFigures({ edge, side: 'inside', centres, radius, farther: o.allowance });
        const name = `Part ${p.index + 1}, pocket ${pocket.index + 1}, ${depth === null ? 'through' : `${sized(u, depth)} deep`}, with cutter ${cutter.number}: ${cutter.kind} ${u.size(cutter.diameter)}`;
        const passes = `Clear the middle first, leaving ${sized(u, o.allowance)}; passes at Z ${o.depths.map((d) => u.size(d)).join(', ')}. Into the solid by a drilled hole of the cutter’s own size or larger. Go round the inside clockwise, so that the cutter feeds against its teeth: rows from the last to the first, each from its second figure to its first.`;
        const island = islands.length === 0 ? '' : para('It has islands: mark them out and leave them to the last.');
        const open =
          pocket.open.length === 0
            ? ''
            : para('It is open at the edge of the part: run out there instead of along the edge.');
        return `<h3>${esc(name)}</h3>${para(esc(passes))}${island}${open}${wallTables(u, figures, radius)}`;
      }),
    )
    .join('\n');
}

function wallTables(u: Units, figures: HandFigures, radius: Mm): string {
  if (figures.kind === 'too many') return para(`The wall has ${figures.count} pieces: too many to turn by hand.`);
  return figureTables(u, figures, radius);
}
