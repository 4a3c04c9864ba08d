/** Laws of the language, on many drawn programs; and gcode-parser as an independent second reader of words. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { readProgram } from '../../../src/check/language/read.ts';
import { emptyBlock } from '../../../src/check/language/text/block.ts';
import { cursor } from '../../../src/check/language/text/cursor.ts';
import { readLine } from '../../../src/check/language/text/words.ts';
import { runs, SEED } from '../../runs.ts';
import { PREAMBLE } from './conditions.ts';
import { parseStringSync } from './second-reader.ts';

const settings = (full: number) => ({ seed: SEED, numRuns: runs(full) });

function words(line: string): string {
  const c = cursor(new Float64Array(5400));
  const b = emptyBlock();
  if (!readLine(c, b, line, 0, line.length)) return `bad ${c.bad}`;
  const out: string[] = b.lineNumber >= 0 ? [`N${b.lineNumber}`] : [];
  for (let i = 0; i < b.gCount; i++) out.push(`G${b.g[i]! / 10}`);
  for (let i = 0; i < b.mCount; i++) out.push(`M${b.m[i]}`);
  for (let i = 0; i < 26; i++)
    if ((b.has & (1 << i)) !== 0) out.push(`${String.fromCharCode(65 + i)}${b.value[i]! + 0}`);
  return out.sort().join(' ');
}

it('five items of a line mean the same in all 120 orders (3.3.6)', () => {
  const orders = permutations(['G1', 'X3', 'Y-4.5', 'F250', 'M8']);
  expect(orders.length).toBe(120);
  const meaning = (line: string) => {
    const r = readProgram([...PREAMBLE, line, 'M2'].join('\n'));
    return JSON.stringify([r.problems, r.moves]);
  };
  const meanings = new Set(orders.map((order) => meaning(order.join(' '))));
  expect(meanings.size).toBe(1);
  expect([...meanings][0]).toContain('"feed":250');
});

it('spelling of a number does not matter: zeros, plus, point, spaces (3.3.2.1)', () => {
  const digit = fc.integer({ min: 0, max: 9 });
  const number = fc.record({
    whole: fc.array(digit, { maxLength: 6 }),
    part: fc.array(digit, { maxLength: 6 }),
    minus: fc.boolean(),
  });
  let seen = 0;
  fc.assert(
    fc.property(number, fc.nat(3), fc.nat(3), fc.nat(12), fc.boolean(), (n, lead, trail, gap, tab) => {
      fc.pre(n.whole.length + n.part.length > 0);
      const plain = `${n.minus ? '-' : ''}${n.whole.join('') || '0'}.${n.part.join('') || '0'}`;
      const other = `${n.minus ? '-' : lead % 2 ? '+' : ''}${'0'.repeat(lead)}${n.whole.join('')}.${n.part.join('')}${'0'.repeat(n.part.length + trail > 0 ? trail : 0)}`;
      fc.pre(/\d/.test(other));
      const cut = gap % (other.length + 1);
      const spaced = other.slice(0, cut) + (tab ? '\t' : ' ') + other.slice(cut);
      seen++;
      expect(words(`x${spaced}`)).toBe(words(`X${plain}`));
      expect(words(`X${plain}`)).toBe(`X${Number(plain) + 0}`);
    }),
    settings(2000),
  );
  expect(seen).toBeGreaterThan(0);
});

const value = fc.oneof(
  fc.integer({ min: -99999, max: 99999 }).map(String),
  fc.integer({ min: -9999999, max: 9999999 }).map((v) => (v / 1e4).toFixed(4)),
);
const letters = fc.uniqueArray(fc.constantFrom(...'XYZIJKFRPQ'), { minLength: 1, maxLength: 6 });
const drawnLine = fc.tuple(
  letters,
  fc.array(value, { minLength: 6, maxLength: 6 }),
  fc.constantFrom('', 'G0', 'G1', 'G2', 'G59.1', 'G4'),
  fc.constantFrom('', 'N7', 'N99999'),
);

it('words of a line come back as written, and gcode-parser reads the same', () => {
  let compared = 0;
  fc.assert(
    fc.property(drawnLine, fc.constantFrom(' ', '', '\t'), fc.boolean(), ([names, values, g, n], gap, lower) => {
      const written = [g, ...names.map((name, i) => `${name}${values[i]}`)].filter((w) => w !== '');
      const line = [n, ...written].filter((w) => w !== '').join(gap);
      const wanted = [n, g, ...names.map((name, i) => `${name}${Number(values[i]) + 0}`)]
        .filter((w) => w !== '')
        .sort()
        .join(' ');
      expect(words(lower ? line.toLowerCase() : line)).toBe(wanted);
      const other = parseStringSync(line)[0]!.words.map(([w, v]) => `${w}${v + 0}`);
      expect([...other, ...(n === '' ? [] : [n])].sort().join(' ')).toBe(wanted);
      compared++;
    }),
    settings(2000),
  );
  expect(compared).toBeGreaterThan(0);
});

it('inch and millimetre programs of the same path give the same moves', () => {
  const point = fc.tuple(
    fc.integer({ min: -400, max: 400 }),
    fc.integer({ min: -400, max: 400 }),
    fc.integer({ min: -40, max: 40 }),
  );
  fc.assert(
    fc.property(fc.array(point, { minLength: 1, maxLength: 12 }), (points) => {
      const path = (units: string, scale: number) => {
        const lines = points.map(
          ([x, y, z]) =>
            `G1 X${(x * scale).toFixed(4)} Y${(y * scale).toFixed(4)} Z${(z * scale).toFixed(4)} F${(254 * scale).toFixed(4)}`,
        );
        return readProgram([`G17 ${units} G90 G94`, ...lines, 'M2'].join('\n')).moves;
      };
      const inch = path('G20', 0.1);
      const metric = path('G21', 2.54);
      expect(inch.length).toBe(points.length + 1);
      inch.forEach((m, i) => {
        for (const axis of ['x', 'y', 'z'] as const) expect(m.to[axis]).toBeCloseTo(metric[i]!.to[axis]!, 9);
      });
    }),
    settings(300),
  );
});

it('absolute and incremental programs of the same path give the same moves, arcs included', () => {
  const step = fc.tuple(
    fc.integer({ min: -50, max: 50 }),
    fc.integer({ min: -50, max: 50 }),
    fc.constantFrom('G1', 'G2', 'G3', 'G0'),
  );
  fc.assert(
    fc.property(fc.array(step, { minLength: 1, maxLength: 12 }), (all) => {
      const stepped = all.filter(([dx, dy]) => dx !== 0 || dy !== 0);
      const lines = (absolute: boolean) => {
        let [x, y] = [0, 0];
        return stepped.map(([dx, dy, g]) => {
          [x, y] = [x + dx, y + dy];
          const end = absolute ? `X${x} Y${y}` : `X${dx} Y${dy}`;
          return g === 'G2' || g === 'G3' ? `${g} ${end} I${dx / 2} J${dy / 2}` : `${g} ${end}`;
        });
      };
      const run = (absolute: boolean) =>
        readProgram([...PREAMBLE, absolute ? 'G90' : 'G91', ...lines(absolute), 'M2'].join('\n'));
      const [a, b] = [run(true), run(false)];
      expect(a.problems).toEqual([]);
      expect(b.moves).toEqual(a.moves);
    }),
    settings(300),
  );
});

function permutations(items: readonly string[]): string[][] {
  if (items.length <= 1) return [[...items]];
  return items.flatMap((item, i) =>
    permutations([...items.slice(0, i), ...items.slice(i + 1)]).map((rest) => [item, ...rest]),
  );
}
