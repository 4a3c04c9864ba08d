import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type CheckOptions, checkPrograms } from '../../../src/check/check.ts';
import { readProgram } from '../../../src/check/language/read.ts';
import { inMemory, type Packing, type Shelf, Spool } from '../../../src/check/strokes/spool.ts';
import { type Stroke, strokesOf, toolOf } from '../../../src/check/strokes/stroke.ts';
import { spoolOfStrokes } from '../../../src/check/strokes/strokes.ts';
import { mustMakeSample } from '../../helpers.ts';
import { FULL, runs, SEED } from '../../runs.ts';
import { leverJob, leverProgram } from '../lever.ts';

/** So few pages open that every list of more than a thousand items is packed and brought back again and again. */
function tight(count: { written: number; read: number } = { written: 0, read: 0 }): Shelf {
  const shelf = inMemory();
  return {
    open: 1,
    write: (page, numbers) => {
      count.written++;
      shelf.write(page, numbers);
    },
    read: (page, numbers) => {
      count.read++;
      shelf.read(page, numbers);
    },
  };
}

const NUMBER: Packing<number> = {
  width: 2,
  pack: (n, index, into, i) => {
    into[i] = n;
    into[i + 1] = index;
  },
  unpack: (index, from, i) => {
    if (from[i + 1] !== index) throw new Error(`item ${from[i + 1]} stands where ${index} should`);
    return from[i]!;
  },
};

describe('a list that is put away in pages', () => {
  it('gives what was put in, whatever the order of asking', () => {
    const count = { written: 0, read: 0 };
    const ask = fc.tuple(fc.constantFrom('push', 'at', 'range', 'backwards'), fc.nat(9000), fc.nat(3000));
    fc.assert(
      fc.property(fc.array(ask, { maxLength: 30 }), (asks) => {
        const list: number[] = [];
        const spool = new Spool(NUMBER, tight(count));
        for (const [what, a, b] of asks) {
          if (what === 'push')
            for (let k = 0; k < b; k++) {
              list.push(a + k / 7);
              spool.push(a + k / 7);
            }
          else if (what === 'at') expect(spool.at(a)).toBe(list[a]);
          else if (what === 'range') expect([...spool.range(a, a + b)]).toEqual(list.slice(a, a + b));
          else expect(first(spool.backwards(a), 50)).toEqual(list.slice(0, a).reverse().slice(0, 50));
        }
        expect(spool.length).toBe(list.length);
        expect([...spool]).toEqual(list);
      }),
      { numRuns: runs(300), seed: SEED },
    );
    expect(count.written).toBeGreaterThan(20);
    expect(count.read).toBeGreaterThan(count.written);
  });

  it('gives nothing outside itself', () => {
    const spool = new Spool(NUMBER, tight());
    spool.push(3);
    expect([spool.at(-1), spool.at(0), spool.at(1)]).toEqual([undefined, 3, undefined]);
  });
});

function first<T>(items: Iterable<T>, most: number): T[] {
  const taken: T[] = [];
  for (const item of items) {
    taken.push(item);
    if (taken.length === most) break;
  }
  return taken;
}

const CYCLES =
  'G0 X1 Y1 Z5\nG98 G83 X3 Y4 Z-5 R1 Q2 F50\nG99 G88 X5 Z-2 P0.5\nG80\nG18 G2 X9 Z-2 I2 K0 F80\nG17 G3 X9 Y8 I0 J2 Z-3\n';

describe('strokes that are put away', () => {
  it('come back whole: lines, arcs, cycles, rapids', () => {
    const job = leverJob();
    const tools = job.cutters.map(toolOf);
    const text = `G17 G21 G40 G49 G80 G90 G94 G98\nF100 S2000 M3\n${CYCLES}M5\nM2\n`;
    const moves = [text, leverProgram()].flatMap((t) => readProgram(t, { slots: 99, unknownAfterStop: true }).moves);
    const list: Stroke[] = [];
    for (const [i, m] of moves.entries()) list.push(...strokesOf(m, i % 3, tools[i % tools.length]!, list.length));
    expect(new Set(list.map((s) => s.step)).size).toBeGreaterThan(3);
    expect(new Set(list.map((s) => `${s.path.kind} ${s.rapid} ${s.cycle}`)).size).toBeGreaterThanOrEqual(5);
    const count = { written: 0, read: 0 };
    const spool = spoolOfStrokes(tools, tight(count));
    const times = Math.ceil(3000 / list.length);
    for (let k = 0; k < times; k++) for (const s of list) spool.push({ ...s, index: spool.length });
    let seen = 0;
    for (const s of spool) expect(s).toEqual({ ...list[seen % list.length]!, index: seen++ });
    expect(seen).toBe(times * list.length);
    expect(count.read).toBeGreaterThan(1);
  });

  it.each(FULL ? ['lifting-lever', 'click', 'rack-arm'] : ['lifting-lever'])(
    'change nothing of what is told about the programs of the %s',
    (name) => {
      const made = mustMakeSample(name);
      const programs = made.programs.map((p) => ({ file: p.file, text: p.text }));
      const spoilt = programs.map((p) => ({ ...p, text: p.text.replace(/^(G1 X\S+ Y)(\S+)$/gm, '$1$2 Z-0.7') }));
      for (const given of [programs, spoilt]) {
        const count = { written: 0, read: 0 };
        const shelved: CheckOptions = { shelf: () => tight(count) };
        // Long enough for several pages: the last program's body over again.
        const long = given.map((p, i) => (i < given.length - 1 ? p : { ...p, text: repeated(p.text, 800) }));
        const plain = checkPrograms(long, made.job);
        expect(checkPrograms(long, made.job, shelved)).toEqual(plain);
        expect(count.read).toBeGreaterThan(20);
        if (given === spoilt) expect(plain.faults.length).toBeGreaterThan(0);
      }
    },
  );
});

/** Its last operation again and again, for at least so many lines. */
function repeated(text: string, least: number): string {
  const lines = text.split('\n');
  const from = lines.findLastIndex((l) => l.startsWith('(Operation')) + 1;
  const to = lines.findIndex((l, i) => i > from && l === 'M5');
  const body = lines.slice(from, to);
  const more = Array.from({ length: Math.ceil(least / body.length) }, () => body).flat();
  return [...lines.slice(0, from), ...more, ...lines.slice(from)].join('\n');
}
