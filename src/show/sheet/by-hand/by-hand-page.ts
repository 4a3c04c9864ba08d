/** The page of figures for a mill without CNC: readout and rotary table. */

import type { Mm } from '../../../base/units.ts';
import type { Cutter } from '../../../part/part.ts';
import type { Operation } from '../../../plan/plan.ts';
import { esc } from '../../markup/element.ts';
import { list, para, table } from '../../markup/html.ts';
import { degrees, sized, turnText, type Units } from '../figures.ts';
import { plateOperations, type SheetInput } from '../input.ts';
import { holeWords, placedParts } from '../placed.ts';
import { type Centre, centresOf, type HandFigures, type HandStep, handFigures } from './by-hand.ts';
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
  const cutter = input.plan.cutters.find((c) => c.number === passes.at(-1)?.cutter);
  if (cutter === undefined) return null;
  const first = passes[0];
  const rougher = input.plan.cutters.find((c) => c.number === first?.cutter) ?? cutter;
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
    const cutter = input.plan.cutters.find((c) => c.number === o.cutter);
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
        const c = input.plan.cutters.find((x) => x.number === o.cutter);
        return `${o.what} ${u.size(c?.diameter ?? 0)} to Z ${u.size(o.depths.at(-1) ?? 0)} ${o.speed === 0 ? 'by hand' : `at ${o.speed}`}`;
      });
      return [
        `${p.index + 1}`,
        `${hole.index + 1}`,
        u.coord(at.x),
        u.coord(at.y),
        esc(holeWords(u, hole)),
        esc(steps.join('; ')),
      ];
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
      const wish = {
        edge: p.outline,
        side: 'outside' as const,
        centres: centresOf(input.job, input.job.part.outline, p.place),
        radius: tools.cutter.diameter / 2,
        farther: tools.farther,
      };
      return `<h3>${name}</h3>${profile(input, u, tools, p.index, handFigures(wish))}`;
    })
    .join('\n');
}

function profile(input: SheetInput, u: Units, tools: ProfileTools, part: number, figures: HandFigures): string {
  if (figures.kind === 'too many') {
    return para(
      `The outline has ${figures.count} pieces: a curve of that many is not one to turn by hand. Mark it out, drill chain holes, and file to the line.`,
    );
  }
  const radius = tools.cutter.diameter / 2;
  return [
    centreTable(u, figures.centres),
    tableFigures(u, figures.steps),
    tabTable(input, u, tools, part, figures),
    readoutTable(u, figures.steps, radius),
    shortWords(figures),
  ].join('\n');
}

function centreTable(u: Units, centres: readonly Centre[]): string {
  return table(
    ['centre', '#X', '#Y', 'reference line, table at 0'],
    centres.map((c) => [esc(c.name), u.coord(c.at.x), u.coord(c.at.y), esc(c.reference.words)]),
    `Centres to bring over the rotary table, from the zero, ${u.name}`,
  );
}

function tableFigures(u: Units, steps: readonly HandStep[]): string {
  const rows = steps.map((s) =>
    s.kind === 'arc'
      ? [
          esc(s.name),
          esc(s.centre.name),
          turnText(s.from, s.to),
          `X ${u.coord(s.radius)}`,
          `X ${u.coord(s.rough)}`,
          'Y 0',
        ]
      : [
          esc(s.name),
          esc(s.centre.name),
          `${degrees(s.turn)}°`,
          `Y ${u.coord(s.y)}`,
          `Y ${u.coord(s.rough)}`,
          `X ${u.coord(s.fromX)} to ${u.coord(s.toX)}`,
        ],
  );
  return table(
    ['piece', 'on centre', '#table', '#set, finishing', '#set, roughing', '#and'],
    rows,
    `Rotary table: readout from the table’s centre, ${u.name}`,
  );
}

function tabTable(input: SheetInput, u: Units, tools: ProfileTools, part: number, figures: HandFigures): string {
  if (figures.kind === 'too many') return '';
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
    const stretches = tabStretches(figures, t, tools.cutter.diameter / 2);
    return stretches.map((s) => [
      t.name,
      esc(s.step?.name ?? 'round the corner'),
      s.step === null
        ? ''
        : s.step.kind === 'arc'
          ? turnText(s.from, s.to)
          : `X ${u.coord(s.from)} to ${u.coord(s.to)}`,
      `${u.coord(s.a.x)}, ${u.coord(s.a.y)}`,
      `${u.coord(s.b.x)}, ${u.coord(s.b.y)}`,
      t.cut,
      t.left,
    ]);
  });
  return table(
    ['tab', 'on', '#from … to', '#cutter from X, Y', '#to X, Y', '#not below Z', '#thinned last to Z'],
    rows,
    `Tabs: over these stretches the cutter stays up, ${u.name}`,
  );
}

function readoutTable(u: Units, steps: readonly HandStep[], radius: Mm): string {
  const rows = steps.map((s) => [
    esc(s.name),
    u.coord(s.path.a.x),
    u.coord(s.path.a.y),
    u.coord(s.path.b.x),
    u.coord(s.path.b.y),
    s.kind === 'arc' ? `${u.coord(s.path.centre.x)}, ${u.coord(s.path.centre.y)}` : '',
    s.kind === 'arc' ? u.coord(s.radius) : '',
  ]);
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
        const cutter = input.plan.cutters.find((c) => c.number === o?.cutter);
        if (o === undefined || cutter === undefined) return '';
        const [radius, { outline, depth }] = [cutter.diameter / 2, input.job.part.pockets[i]!];
        const centres = centresOf(input.job, outline, p.place);
        const figures = handFigures({ edge, side: 'inside', centres, radius, farther: o.allowance });
        const name = `Part ${p.index + 1}, pocket ${input.job.part.pockets[i]!.index + 1}, ${depth === null ? 'through' : `${sized(u, depth)} deep`}, with cutter ${cutter.number}: ${cutter.kind} ${u.size(cutter.diameter)}`;
        const passes = `Clear the middle first, leaving ${sized(u, o.allowance)}; passes at Z ${o.depths.map((d) => u.size(d)).join(', ')}. Into the solid by a drilled hole of the cutter’s own size or larger. Go round the inside clockwise, so that the cutter feeds against its teeth: rows from the last to the first, each from its second figure to its first.`;
        const island = islands.length === 0 ? '' : para('It has islands: mark them out and leave them to the last.');
        const open =
          input.job.part.pockets[i]!.open.length === 0
            ? ''
            : para('It is open at the edge of the part: run out there instead of along the edge.');
        return `<h3>${esc(name)}</h3>${para(esc(passes))}${island}${open}${wallTables(u, figures, radius)}`;
      }),
    )
    .join('\n');
}

function wallTables(u: Units, figures: HandFigures, radius: Mm): string {
  if (figures.kind === 'too many') return para(`The wall has ${figures.count} pieces: too many to turn by hand.`);
  return [
    centreTable(u, figures.centres),
    tableFigures(u, figures.steps),
    readoutTable(u, figures.steps, radius),
    shortWords(figures),
  ].join('\n');
}

function shortWords(figures: Extract<HandFigures, { kind: 'figures' }>): string {
  if (figures.short.length === 0) return '';
  return para(
    `Inside corners sharper than the cutter end these short and stay round: ${esc(figures.short.join('; '))}.`,
  );
}
