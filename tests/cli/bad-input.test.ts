/** Every kind of bad input: exit 2, one clear line that says where, what and what to do, nothing on stdout, no output left. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it, vi } from 'vitest';
import { readerBeside } from '../../src/cli/files.ts';
import { tellProblems } from '../../src/cli/say.ts';
import { makeJob } from '../../src/job.ts';
import { shippedPost } from '../helpers.ts';
import { everythingIn, leverJob, type Run, scratch, tabwright, tabwrightHere, writeJob } from './command.ts';

const { folder, clear } = scratch();
afterAll(clear);
let count = 0;

/** Makes the job in a folder of its own, by the built command: within this process, or in one of its own. */
async function refused(
  job: unknown,
  options: readonly string[] = [],
  by: typeof tabwright | typeof tabwrightHere = tabwrightHere,
): Promise<{ run: Run; left: readonly string[] }> {
  const own = join(folder, String(count++));
  mkdirSync(own);
  writeJob(own, 'job.json', job);
  const run = await by(['make', 'job.json', '-o', 'results', ...options], { cwd: own });
  return { run, left: everythingIn(own) };
}

/** The same words without starting a process for each: every stage, then what `make` prints of a refusal. */
function refusedHere(job: unknown): readonly string[] {
  const text = typeof job === 'string' ? job : JSON.stringify(job, null, 1);
  const read = readerBeside(join(folder, 'job.json'));
  const made = makeJob({ text, file: 'job.json', read, post: shippedPost });
  expect(made.ok).toBe(false);
  let printed = '';
  const write = vi.spyOn(process.stderr, 'write').mockImplementation((chunk) => {
    printed += chunk;
    return true;
  });
  tellProblems(made.problems);
  write.mockRestore();
  return printed.split('\n').slice(0, -1);
}

/** A line as promised: `fault file:line:column code path (which): found; wanted; what to do`. */
const LINE =
  /^fault \S+(:\d+(:\d+)?)? [a-z0-9-]+( [A-Za-z.[\]0-9]+( \([a-z0-9, ]+\))?)?( at -?[\d.]+, -?[\d.]+(, -?[\d.]+)? mm)?: [^;]+; [^;]+; .+$/;

function isOneClearLine(lines: readonly string[], code: string, words: readonly (string | RegExp)[]): void {
  expect(lines).toHaveLength(1);
  const [line] = lines;
  expect(line).toMatch(LINE);
  expect(line).toContain(` ${code}`);
  for (const word of words) expect(line).toMatch(word);
  expect(line!.length).toBeLessThan(400);
}

type Spoil = (job: any) => unknown;
type Row = readonly [what: string, spoil: Spoil, code: string, words: readonly (string | RegExp)[]];

const text = (change: (t: string) => string): Spoil => {
  return (job) => change(JSON.stringify(job, null, 1));
};

const ROWS: readonly Row[] = [
  [
    'an unknown key',
    (j) => {
      j.part.thicknes = 4;
    },
    'unknown-key',
    ['`thicknes`', 'nearest is `thickness`', /job\.json:\d+:\d+ /],
  ],
  [
    'an unknown key deep down',
    (j) => {
      j.cutters[0].flute = 2;
    },
    'unknown-key',
    ['`flute`', '`flutes`', /cutters\[0\]/],
  ],
  ['NaN', text((t) => t.replace('"thickness": 4', '"thickness": NaN')), 'json-number', ['NaN', /job\.json:5:16/]],
  ['Infinity', text((t) => t.replace('"thickness": 4', '"thickness": Infinity')), 'json-number', ['Infinity']],
  ['a number past any size', text((t) => t.replace('"thickness": 4', '"thickness": 1e999')), 'json-number', ['large']],
  [
    'a negative thickness',
    (j) => {
      j.part.thickness = -4;
    },
    'out-of-range',
    ['-4', 'more than 0', 'part.thickness'],
  ],
  [
    'a boss of no size',
    (j) => {
      j.part.outline.bosses[1].radius = 0;
    },
    'out-of-range',
    [/bosses\[1\]\.radius/, 'more than 0'],
  ],
  [
    'a cutter of negative diameter',
    (j) => {
      j.cutters[0].diameter = -3;
    },
    'out-of-range',
    [/cutters\[0\]\.diameter/],
  ],
  [
    'a boss inside another',
    (j) => {
      j.part.holes = [];
      j.part.outline.bosses = [
        { at: [0, 0], radius: 10 },
        { at: [3, 0], radius: 2 },
      ];
    },
    'boss-inside-another',
    ['outline.bosses[1] (boss 2): boss 2 lies inside boss 1'],
  ],
  [
    'a hole outside the part',
    (j) => {
      j.part.holes.push({ at: [60, 0], drill: 2.05 });
    },
    'hole-outside',
    [/holes\[2\]/, 'at 60, 0', 'outside the part'],
  ],
  [
    'a hole through the edge',
    (j) => {
      j.part.holes.push({ at: [16, 4.5], drill: 2.05 });
    },
    'hole-through-edge',
    [/holes\[2\]/, 'at 16, 4.5'],
  ],
  [
    'two holes in one place',
    (j) => {
      j.part.holes.push({ at: [1, 0], drill: 2.05 });
    },
    'holes-overlap',
    [/holes\[2\]/],
  ],
  [
    'an outline that crosses itself',
    (j) => {
      j.part.holes = [];
      j.part.outline = {
        vertices: [
          [0, 0],
          [30, 10],
          [30, 0],
          [0, 14],
        ],
      };
    },
    'outline-unsound',
    ['crosses itself at 17.5 mm, 5.833 mm', 'part.outline'],
  ],
  [
    'a slot no cutter enters',
    (j) => {
      j.part.pockets = [{ outline: { slot: { from: [14, 0], to: [20, 0], width: 2 } }, through: true }];
    },
    'cutter-too-wide',
    ['pocket 1, which is 2 mm wide', 'at most 2 mm', 'has 3'],
  ],
  [
    'a pocket no cutter enters',
    (j) => {
      j.part.pockets = [{ outline: { circle: { at: [16, 0], diameter: 2.5 } }, depth: 1 }];
    },
    'cutter-too-wide',
    ['2.5 mm wide', 'at most 2.5 mm'],
  ],
  [
    'a bore no cutter enters',
    (j) => {
      j.part.holes.push({ at: [16, 0], bore: 2.8 });
    },
    'cutter-too-wide',
    ['hole 3, which is 2.8 mm wide', 'at most 2.8 mm'],
  ],
  [
    'no drill for a thread',
    (j) => {
      j.cutters.splice(2, 1);
    },
    'cutter-missing',
    ['M2.5', /a drill of 2\.0\d* (mm )?to 2\.1\d* mm/, /holes\[1\]/],
  ],
  [
    'no reamer for a hole',
    (j) => {
      j.cutters.splice(4, 1);
    },
    'cutter-missing',
    ['a reamer of 5 mm', /holes\[0\]/],
  ],
  [
    'a plate thicker than a cutter is long',
    (j) => {
      j.part.thickness = 10;
      j.stock = { size: [75, 30, 10], measured: 10 };
      j.cutters[2].fluteLength = 20;
    },
    'flute-too-short',
    ['flutes of 9 mm', /flutes of at least 1\d(\.\d+)? mm/],
  ],
  [
    'a program off the travel in X',
    (j) => {
      j.machine.travel = [30, 150, 150];
    },
    'travel',
    [/X/, /30/],
  ],
  [
    'a program off the travel in Z',
    (j) => {
      j.machine.travel = [200, 150, 20];
    },
    'travel',
    [/Z/, /20/],
  ],
  [
    'a part off the stock',
    (j) => {
      j.place = [{ at: [12, 5] }];
      j.clamps.shift();
    },
    'part-off-stock',
    ['reaches 1 mm over the edge'],
  ],
  [
    'an unknown material',
    (j) => {
      j.material = 'CuZn39Pb4';
    },
    'unknown-material',
    ['CuZn39Pb4', 'did you mean CuZn39Pb3'],
  ],
  [
    'an unknown post in the job',
    (j) => {
      j.post = 'standart';
    },
    'unknown-post',
    ['standart', 'standard, plain, lines, inch'],
  ],
  [
    'a drawing that is not there',
    (j) => {
      j.part.outline = { dxf: 'absent.dxf' };
    },
    'file-missing',
    ['absent.dxf', 'no such file', 'part.outline.dxf'],
  ],
  ['text that is not JSON', () => 'this is not JSON', 'json-syntax', ['`this`', /job\.json:1:1/]],
  ['an empty file', () => '', 'job-empty', ['tabwright start']],
  ['a list for a job', () => '[]', 'wrong-type', ['a list of 0']],
  ['a job cut short', text((t) => t.slice(0, 200)), 'json-syntax', ['ends too soon']],
  [
    '10 MB of rubbish',
    () =>
      Array.from({ length: 10 * 1024 }, (_, i) => String.fromCharCode(33 + ((i * 7919) % 94)).repeat(1024)).join(''),
    'file-too-large',
    ['10.5 million characters'],
  ],
];

describe('a bad job', () => {
  it.each(ROWS)('%s', (_what, spoil, code, words) => {
    const job = leverJob();
    isOneClearLine(refusedHere(spoil(job) ?? job), code, words);
  });

  const BY_COMMAND = [
    'an unknown key',
    'NaN',
    'no drill for a thread',
    'a program off the travel in X',
    '10 MB of rubbish',
  ];
  it.each(ROWS.filter(([what]) => BY_COMMAND.includes(what)))(
    '%s, by the built command',
    async (what, spoil, code, words) => {
      const job = leverJob();
      const { run, left } = await refused(spoil(job) ?? job, [], what === BY_COMMAND[0] ? tabwright : tabwrightHere);
      expect(run.code).toBe(2);
      expect(run.out).toBe('');
      isOneClearLine(run.lines, code, words);
      expect(left).toEqual(['job.json']);
    },
  );

  it('and the same job unspoilt is made', async () => {
    const { run, left } = await refused(leverJob());
    expect(run.err).not.toMatch(/^fault/m);
    expect(run.code).toBe(0);
    expect(left).toContain(join('results', 'lever.ngc'));
  });
});

describe('a bad file', () => {
  function make(name: string): Promise<Run> {
    return tabwrightHere(['make', name, '-o', 'results'], { cwd: folder });
  }
  mkdirSync(join(folder, 'folder.json'));
  writeFileSync(join(folder, 'binary.json'), Buffer.from([0x7b, 0, 1, 2, 0xff, 0xfe]));
  writeFileSync(join(folder, 'big.json'), Buffer.alloc(65 * 1024 * 1024, ' '));

  it.each([
    ['absent.json', 'file-missing', 'no such file'],
    ['folder.json', 'file-is-folder', 'a folder'],
    ['binary.json', 'file-binary', 'not text'],
    ['big.json', 'file-too-large', '65 MB'],
  ])('%s', async (name, code, words) => {
    const run = await make(name);
    expect(run.code).toBe(2);
    expect(run.out).toBe('');
    isOneClearLine(run.lines, code, [words, name]);
    expect(everythingIn(folder)).not.toContain('results');
  });

  it.each(['check', 'hold', 'view', 'outline'])('is told by %s too', async (command) => {
    // A program alone is read piece by piece, whatever its length.
    for (const name of ['absent.json', 'folder.json', 'binary.json', ...(command === 'check' ? [] : ['big.json'])]) {
      const run = await tabwrightHere([command, name], { cwd: folder });
      expect(run.code).toBe(2);
      expect(run.out).toBe('');
      isOneClearLine(run.lines, 'file-', [name]);
    }
  });
});

describe('a program of nothing but blanks, 65 MB long', () => {
  it('is read, and refused for its want of an end', async () => {
    const run = await tabwrightHere(['check', 'big.json'], { cwd: folder });
    expect(run.code).toBe(1);
    expect(run.lines[0]).toMatch(/big\.json:1:1 rs274-2/);
  });
});

describe('a bad call', () => {
  const good = writeJob(folder, 'good.json', leverJob());

  it('of an unknown post', async () => {
    const { run, left } = await refused(leverJob(), ['--post', 'nonsense']);
    expect(run.code).toBe(2);
    isOneClearLine(run.lines, 'unknown-post', ['nonsense']);
    expect(left).toEqual(['job.json']);
  });

  it('of a post by a path', async () => {
    const { run } = await refused(leverJob(), ['--post', '../posts/standard']);
    expect(run.code).toBe(2);
    isOneClearLine(run.lines, 'unknown-post', []);
  });

  it.each([
    ['a file', 'good.json'],
    ['below a file', join('good.json', 'below')],
  ])('that writes into %s', async (_what, place) => {
    const before = everythingIn(folder);
    const run = await tabwrightHere(['make', good, '-o', place], { cwd: folder });
    expect(run.code).toBe(2);
    const faults = run.lines.filter((l) => l.startsWith('fault '));
    isOneClearLine(faults, 'file-unwritable', ['cannot be written', 'permissions']);
    expect(everythingIn(folder)).toEqual(before);
  });

  it.each([
    [[], /Usage: tabwright/],
    [['mak', 'job.json'], /^fault call unknown command 'mak'/],
    [['make'], /^fault call missing required argument 'job'/],
    [['make', 'a', 'b'], /^fault call too many arguments/],
    [['make', 'a', '--pots', 'plain'], /^fault call unknown option '--pots'/],
    [['check'], /^fault call missing required argument 'program'/],
  ])('%j', (args, words) => {
    const run = tabwright(args as string[], { cwd: folder });
    expect(run.code).toBe(2);
    expect(run.out).toBe('');
    expect(run.err).toMatch(words as RegExp);
    expect(run.err).not.toMatch(/\n {4}at /);
  });
});
