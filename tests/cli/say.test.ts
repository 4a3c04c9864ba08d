/** What is printed: order, sameness, colour. */
import { afterEach, describe, expect, it, vi } from 'vitest';
import { caution, fault, note, type Problem } from '../../src/base/problem.ts';
import { tellProblems } from '../../src/cli/say.ts';

const BOLD = '\u001b[1m';

afterEach(() => {
  vi.unstubAllEnvs();
  vi.restoreAllMocks();
});

/** Lines printed to a terminal or to a pipe. */
function told(problems: readonly Problem[], terminal = false, env: Record<string, string> = {}): string[] {
  vi.stubEnv('NO_COLOR', '');
  vi.stubEnv('CI', '');
  for (const [key, value] of Object.entries(env)) vi.stubEnv(key, value);
  let text = '';
  const write = vi.spyOn(process.stderr, 'write').mockImplementation((chunk) => {
    text += chunk;
    return true;
  });
  const isTty = process.stderr.isTTY;
  process.stderr.isTTY = terminal;
  tellProblems(problems);
  process.stderr.isTTY = isTty;
  write.mockRestore();
  return text.split('\n').slice(0, -1);
}

const one = fault({ code: 'a-code', found: 'this', wanted: 'that', remedy: 'do so' });

describe('telling problems', () => {
  it('puts faults first, then cautions, then notes, each as it came', () => {
    const lines = told([
      note({ code: 'n', found: '1' }),
      caution({ code: 'c', found: '2', wanted: '', remedy: '' }),
      one,
      note({ code: 'n', found: '3' }),
    ]);
    expect(lines).toEqual(['fault a-code: this; that; do so', 'caution c: 2', 'note n: 1', 'note n: 3']);
  });

  it('puts doubt of the units first of all, because it explains the rest', () => {
    expect(told([one, caution({ code: 'units-doubtful', found: 'inches?', wanted: '', remedy: '' })])[0]).toBe(
      'caution units-doubtful: inches?',
    );
  });

  it('names the unit beside every place, and leaves what has one, or is no place', () => {
    const lines = told([
      fault({
        code: 'c',
        at: { at: [1.25, 0, -4] },
        found: 'hole 1 at 1.5 in, 2 in; a tab at 3, 4 mm; worst at 79.5, -15.7, then',
        wanted: 'look at 12, at 3 holes',
        remedy: '',
      }),
    ]);
    expect(lines[0]).toBe(
      'fault c at 1.25, 0, -4 mm: hole 1 at 1.5 in, 2 in; a tab at 3, 4 mm; worst at 79.5, -15.7 mm, then; look at 12, at 3 holes',
    );
  });

  it('says the same thing once', () => {
    expect(told([one, one])).toHaveLength(1);
  });

  it('counts what goes past forty lines', () => {
    const many = Array.from({ length: 55 }, (_, i) => fault({ code: 'f', found: String(i), wanted: '', remedy: '' }));
    const lines = told(many);
    expect(lines).toHaveLength(41);
    expect(lines[40]).toBe('... and 15 more');
  });

  it('tells one fault of JSON a line, all of other kinds', () => {
    const at = (line: number, code: string) =>
      fault({ code, at: { file: 'j', line }, found: code, wanted: '', remedy: '' });
    const lines = told([at(1, 'json-number'), at(1, 'json-syntax'), at(2, 'json-syntax'), at(1, 'x'), at(1, 'y')]);
    expect(lines).toHaveLength(4);
  });

  it('is bold on a terminal only, and never with NO_COLOR or CI set', () => {
    expect(told([one], true)[0]).toContain(BOLD);
    expect(told([one], false)[0]).not.toContain(BOLD);
    expect(told([one], true, { NO_COLOR: '1' })[0]).not.toContain(BOLD);
    expect(told([one], true, { CI: 'true' })[0]).not.toContain(BOLD);
  });
});
