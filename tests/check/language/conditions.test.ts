import { describe, expect, it } from 'vitest';
import type { ReaderOptions } from '../../../src/check/language/canonical.ts';
import { CONDITIONS } from '../../../src/check/language/conditions.ts';
import { readProgram } from '../../../src/check/language/read.ts';
import { type Case, PREAMBLE, REFUSED } from './conditions.ts';

const TOOLS: ReaderOptions = { toolTable: [{ number: 1, diameter: 6, length: 50 }], slots: 68 };

function read(c: Case) {
  const text = c.whole === true ? c.text.join('\n') : [...PREAMBLE, ...c.text, 'M2'].join('\n');
  return readProgram(text, { ...TOOLS, ...c.options });
}

describe('the 120 conditions of NISTIR 6556', () => {
  it('sees every one of them', () => {
    const numbers = Object.keys(REFUSED).map(Number);
    expect(numbers).toEqual(Array.from({ length: 120 }, (_, i) => i + 1));
    expect(Object.keys(CONDITIONS).length).toBe(120);
    expect(numbers.every((n) => REFUSED[n]!.length > 0)).toBe(true);
  });

  for (const [number, cases] of Object.entries(REFUSED)) {
    it.each(cases.map((c) => [c.text.join(' / ').slice(0, 60), c] as const))(`${number}: %s`, (_, c) => {
      const faults = read(c).problems.filter((p) => p.severity === 'fault');
      const line = c.line + (c.whole === true ? 0 : PREAMBLE.length);
      const found = faults.map((p) => `${p.code} ${p.place.line}:${p.place.column}`);
      expect(found[0]).toBe(`rs274-${number} ${line}:${c.column}`);
      expect(found.length).toBe(1);
    });
  }

  it('every one says what was found, what was wanted and what to do, in words of its own', () => {
    const told = Object.entries(REFUSED).map(
      ([, cases]) => read(cases[0]!).problems.find((p) => p.severity === 'fault')!,
    );
    for (const p of told) {
      expect(p.place.line, p.code).toBeGreaterThan(0);
      expect(p.place.column, p.code).toBeGreaterThan(0);
      for (const words of [p.found, p.wanted, p.remedy]) {
        expect(words.length, p.code).toBeGreaterThan(1);
        expect(words.length, p.code).toBeLessThan(160);
        expect(words, p.code).not.toMatch(/undefined|NaN|null|;/);
      }
      expect(p.wanted, p.code).not.toBe(p.found);
    }
    expect(new Set(Object.values(CONDITIONS).map(([found, wanted]) => `${found}: ${wanted}`)).size).toBe(120);
  });

  it('the preamble alone is clean', () => {
    const result = readProgram([...PREAMBLE, 'M2'].join('\n'), TOOLS);
    expect(result.problems).toEqual([]);
    expect(result.endedBy).toBe('M2');
  });
});
