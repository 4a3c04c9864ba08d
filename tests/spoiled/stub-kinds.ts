/** Faults at a stub: cut across, narrower or wider than stated, and heads that say it stands elsewhere. */
import { DISAGREES, fact, word } from './head-kinds.ts';
import type { Ground, Kind, Planted } from './kind.ts';
import { linesOf, withLine } from './text.ts';

const HEAD = /^\(HOLD stub/;

/** From where a pass leaves the slot straight across to where it came on, at its depth. */
function across(operation: RegExp, which: 'first' | 'last'): (c: Ground) => Planted | null {
  return (c) => {
    if (c.job.hold.by !== 'stub') return null;
    const moves = c.of(operation).filter((m) => m.to.z < 0);
    const passes = moves.filter(
      (m, i) => m.kind !== 'rapid' && moves[i + 1]?.kind !== 'arc' && moves[i + 1]?.kind !== 'feed',
    );
    const end = which === 'last' ? passes.at(-1) : passes[0];
    const start = moves.find((m) => m.kind !== 'rapid');
    if (end === undefined || start === undefined) return null;
    const at = { program: end.program, line: end.line };
    const u = c.unit(end.program);
    const line = `${c.line(at)}\nG1 X${(start.from.x / u).toFixed(4)} Y${(start.from.y / u).toFixed(4)}`;
    return { programs: withLine(c.programs, at, line), at, harm: `the stub is cut across at z ${end.to.z.toFixed(2)}` };
  };
}

/** Head and job say another width alike, so that only what is cut can tell. */
function otherWidth(by: number): (c: Ground) => Planted | null {
  return (c) => {
    const { hold } = c.job;
    if (hold.by !== 'stub') return null;
    const programs = c.programs.map((p) => ({
      file: p.file,
      text: linesOf(p)
        .map((l) => (HEAD.test(l) ? word(l, 'WIDTH', (v) => v + by / c.unit(0)) : l))
        .join('\n'),
    }));
    const job = { ...c.job, hold: { ...hold, width: hold.width + by } };
    return { programs, job, harm: `the stub is ${Math.abs(by)} mm ${by > 0 ? 'narrower' : 'wider'} than stated` };
  };
}

function onFreeEdge(c: Ground): Planted | null {
  if (c.job.hold.by !== 'stub') return null;
  const noTabs = [{ kind: 'boss' as const, boss: 0 }];
  return {
    programs: c.programs,
    job: { ...c.job, part: { ...c.job.part, noTabs } },
    harm: 'the stub stands on an edge that shall have none',
  };
}

const WIDTH = /^stub-width$/;

export const STUB_KINDS: readonly Kind[] = [
  {
    name: 'stub: cut across by the last pass',
    codes: /^(stub-width|part-loose)$/,
    within: null,
    plant: across(/finish the outline/, 'last'),
  },
  {
    name: 'stub: cut across by the first pass, near the top',
    codes: WIDTH,
    within: null,
    plant: across(/finish the outline/, 'first'),
  },
  { name: 'stub: narrower than said', codes: WIDTH, within: null, plant: otherWidth(0.1) },
  { name: 'stub: wider than said', codes: WIDTH, within: null, plant: otherWidth(-0.1) },
  {
    name: 'stub: another width in the head than in the job',
    ...fact(HEAD, (l, c) => word(l, 'WIDTH', (v) => v - 0.5 / c.unit(0)), 'the job asks for a wider one'),
  },
  {
    name: 'stub: another direction in the head',
    ...fact(HEAD, (l) => word(l, 'DIRECTION', (v) => v + 20), 'not the normal of the edge'),
  },
  {
    name: 'stub: elsewhere in the head',
    ...fact(HEAD, (l, c) => word(l, ' Y', (v) => v + 1 / c.unit(0)), 'the stub is not where it is said to be'),
  },
  {
    name: 'stub: said of another part',
    ...fact(HEAD, (l) => l.replace('PART 1 ', 'PART 2 '), 'nothing is said to hold part 1'),
  },
  {
    name: 'stub: a footprint longer than it can be',
    ...fact(
      HEAD,
      (l, c) => word(l, 'FOOTPRINT', (v) => v + 12 / c.unit(0)),
      'the head would excuse edge left by mistake',
    ),
  },
  {
    name: 'stub: a footprint no longer than its waist',
    ...fact(
      HEAD,
      (l) => l.replace(/FOOTPRINT [\d.]+/, `FOOTPRINT ${l.match(/WIDTH ([\d.]+)/)![1]}`),
      'stock is left on the edge beside the waist',
      /^(edge-uncut|tab-footprint)$/,
    ),
  },
  {
    name: 'stub: tabs on top of it in the head',
    ...fact(HEAD, (l) => `(HOLD tabs)\n${l}`, 'two ways of holding are stated'),
  },
  { name: 'stub: on an edge that shall have none', codes: DISAGREES, within: null, plant: onFreeEdge },
];
