/** The sheet as text: its figures against plan.json, what it must say, and that it is safe to open. */
import { describe, expect, it } from 'vitest';
import { MM_PER_INCH } from '../../../src/base/units.ts';
import { planFile } from '../../../src/show/plan-file.ts';
import { setupSheet } from '../../../src/show/sheet/sheet.ts';
import { cautionText, USUAL_CAUTIONS } from '../../../src/trade/cautions.ts';
import { edgeJob } from '../../edge-job.ts';
import { mustMake } from '../../helpers.ts';
import { quickInput, SAMPLES, sampleText } from './quick.ts';

const LEVER = sampleText('lifting-lever');

function valueAt(plan: object, path: string): unknown {
  return path.split('.').reduce<unknown>((v, key) => (v as Record<string, unknown> | undefined)?.[key], plan);
}

interface Shown {
  readonly path: string;
  readonly is: string;
  readonly text: string;
}

function shownIn(html: string): Shown[] {
  return [...html.matchAll(/data-plan="([^"]+)" data-is="([^"]+)">([^<]*)</g)].map((m) => ({
    path: m[1]!,
    is: m[2]!,
    text: m[3]!,
  }));
}

/** Half the last digit shown, in the unit shown. */
function roundingOf(text: string, is: string): number {
  const decimals = text.split('.')[1]?.length ?? 0;
  const most = is === 'feed' ? decimals : Math.max(decimals, 0);
  return 0.5 * 10 ** -most + 1e-9;
}

/** What differs between sheet and plan; `scale`: millimetres to the unit shown. */
function disagreements(html: string, plan: object, scale: number): { seen: number; wrong: string[] } {
  const shown = shownIn(html);
  const wrong = shown.flatMap(({ path, is, text }) => {
    const wanted = valueAt(plan, path);
    if (typeof wanted !== 'number') return [`${path}: not a figure of the plan`];
    const inUnits = is === 'plain' ? wanted : wanted / scale;
    // A size drops trailing zeros: it is shown to 3 decimals of a millimetre, 4 of an inch.
    const slack =
      is === 'length'
        ? (scale === 1 ? 0.0005 : 0.00005) + 1e-9
        : is === 'feed' && scale !== 1
          ? 0.005 + 1e-9
          : roundingOf(text, is);
    return Math.abs(Number(text) - inUnits) <= slack ? [] : [`${path}: sheet ${text}, plan ${inUnits}`];
  });
  return { seen: shown.length, wrong };
}

/** Figures of the plan that a person needs at the bench, as key paths. */
function needed(plan: object): string[] {
  const p = plan as {
    cutters: unknown[];
    setups: {
      operations: { depths: number[]; speed: number }[];
      hold: { tabs: unknown[]; clamps: { kind: string }[] };
    }[];
  };
  const cutters = p.cutters.flatMap((_, i) => [
    `cutters.${i}.number`,
    `cutters.${i}.diameter`,
    `cutters.${i}.stickOut`,
  ]);
  const operations = p.setups.flatMap((s, i) =>
    s.operations.flatMap((o, j) => {
      const at = `setups.${i}.operations.${j}`;
      const turning = o.speed > 0 ? ['speed', 'feed'] : [];
      return ['cutter', ...turning, 'blocks.0', 'blocks.1', ...o.depths.map((_, k) => `depths.${k}`)].map(
        (k) => `${at}.${k}`,
      );
    }),
  );
  const tabs = p.setups[0]!.hold.tabs.flatMap((_, i) =>
    ['at.0', 'at.1', 'direction', 'width', 'height', 'cutHeight', 'footprint'].map(
      (k) => `setups.0.hold.tabs.${i}.${k}`,
    ),
  );
  const strength = ['margin.least', 'margin.block', 'movement.most', 'movement.block', 'cutterDeflection'];
  return [
    'thickness',
    'stock.flatness',
    'setups.0.minutes',
    ...strength.map((k) => `setups.0.hold.${k}`),
    'setups.0.hold.rail',
    ...cutters,
    ...operations,
    ...tabs,
  ];
}

describe.each(SAMPLES)('%s', (name) => {
  const input = quickInput(sampleText(name), { course: true });
  const html = setupSheet(input);
  const plan = planFile(input);

  it('agrees with plan.json in every figure it shares', () => {
    const { seen, wrong } = disagreements(html, plan, 1);
    expect(seen).toBeGreaterThan(60);
    expect(wrong).toEqual([]);
  });

  it('shows every figure of the plan that is needed at the bench', () => {
    const shown = new Set(shownIn(html).map((s) => s.path));
    const wanted = needed(plan);
    expect(wanted.length).toBeGreaterThan(40);
    expect(wanted.filter((w) => !shown.has(w))).toEqual([]);
  });

  it('is well-formed: every element is closed in order', () => {
    expect(unclosed(html)).toEqual([]);
  });

  it('says every caution, every default, every stop and every restart line', () => {
    const text = plainText(html);
    for (const caution of USUAL_CAUTIONS) expect(text).toContain(cautionText(caution));
    for (const d of input.job.defaults) expect(text).toContain(d);
    const stops = input.moves.programs
      .flatMap((p) => p.moves)
      .flatMap((m) => (m.kind === 'change' || m.kind === 'stop' ? m.lines : []));
    expect(stops.length).toBeGreaterThan(2);
    for (const line of stops) expect(text.toLowerCase()).toContain(line.toLowerCase());
    for (const r of input.programs.flatMap((p) => p.restarts)) expect(text).toContain(`${r.block}`);
    for (const o of input.plan.setups.flatMap((s) => s.operations)) expect(text).toContain(o.title);
    for (const b of input.plan.bench) expect(text).toContain(b);
  });

  it('loads nothing and runs nothing', () => {
    expect(html).toContain("default-src 'none'");
    expect(html).not.toMatch(/<script|<img|<link|<iframe|url\(|@import|\son\w+=/i);
    expect(html.replace('http://www.w3.org/2000/svg', '').replaceAll('http://www.w3.org/2000/svg', '')).not.toMatch(
      /https?:/,
    );
  });
});

describe('the walk over sheet and plan', () => {
  it('notices a figure that differs', () => {
    const input = quickInput(LEVER);
    const spoiled = setupSheet(input).replace(/(data-plan="cutters\.0\.stickOut" data-is="length">)[^<]*/, '$131');
    expect(disagreements(spoiled, planFile(input), 1).wrong).toHaveLength(1);
  });
});

describe.each(['mm', 'inch'] as const)('parts on edge, %s', (units) => {
  const scale = units === 'mm' ? 1 : MM_PER_INCH;
  const shrunk = (v: unknown): unknown => (Array.isArray(v) ? v.map(shrunk) : Number(v) / MM_PER_INCH);
  const LENGTHS = ['at', 'radius', 'thickness', 'depth', 'width', 'height'];
  const inUnits = (text: string) =>
    units === 'mm' ? text : JSON.stringify(JSON.parse(text, (k, v) => (LENGTHS.includes(k) ? shrunk(v) : v)));
  const job = inUnits(edgeJob()).replace('"name"', `"units": "${units}", "name"`);
  const made = mustMake(job.replace(/"ream":[\d.]+/, '"clear":"M5"').replace(/"drill":[\d.]+/, '"clear":"M1.6"'));
  const html = setupSheet(made);

  it('agree with plan.json, drawing included', () => {
    const { seen, wrong } = disagreements(html, planFile(made), scale);
    expect(wrong).toEqual([]);
    expect(seen).toBeGreaterThan(100);
    const drawn = [...html.matchAll(/data-plan="setups\.[12]\.hold\.(centres|jawsTop|holeBottom)/g)];
    expect(drawn.length).toBeGreaterThanOrEqual(6);
  });

  it('are drawn and told, one set-up a hole', () => {
    expect(html.match(/Part on edge for edge hole \d, seen from the front/g)).toHaveLength(2);
    expect(plainText(html)).toContain('Once for each of the 2 parts.');
    expect(plainText(html)).toContain('Set-up 3: edge hole 2, edge-arm-3.ngc');
  });
});

describe('an inch job', () => {
  const input = quickInput(INCH_JOB(), { post: 'inch' });
  const html = setupSheet(input);

  it('agrees with plan.json, which stays in millimetres', () => {
    const { seen, wrong } = disagreements(html, planFile(input), MM_PER_INCH);
    expect(seen).toBeGreaterThan(60);
    expect(wrong).toEqual([]);
  });

  it('writes coordinates with four decimals and says which units the program speaks', () => {
    expect(plainText(html)).toMatch(/X \d\.\d{4} Y \d\.\d{4}/);
    expect(plainText(html)).toContain('in, also in the program');
    expect(plainText(setupSheet(quickInput(INCH_JOB())))).toContain('the program counts in mm');
    expect(plainText(setupSheet(quickInput(LEVER, { post: 'inch' })))).toContain('mm; the program counts in inches');
  });
});

describe('particular facts', () => {
  const html = plainText(setupSheet(quickInput(LEVER, { course: true })));

  it('names a tap by its thread, in the cutter table and at its change', () => {
    expect(html).toMatch(/Fit cutter \d+: tap M2\.5, stick out/);
    expect(html).toMatch(/tap M2\.5, HSS/);
  });

  it('gives the limits of a reamed hole in millimetres and micrometres, with gauges', () => {
    // 5 H7: +12/0 (ISO 286-2).
    expect(html).toContain('5.000 to 5.012');
    expect(html).toContain('0 / +12');
    expect(html).toContain('GO 5.000, NOT GO 5.012');
  });

  it('names shafts: 5 g6 is -4/-12 (ISO 286-2)', () => {
    expect(html).toMatch(/5 H7\/g6\s+4\.988 to 4\.996\s+-12 \/ -4/);
  });

  it('counts pieces from a bar: n pieces of 75 and n - 1 cuts of 3 from 1000 are 12', () => {
    expect(html).toContain('flat 30 wide, cut 75 long: 6 from 500, 12 from 1000');
  });

  it('gives the time of each operation from the course', () => {
    const input = quickInput(LEVER, { course: true });
    const rough = input.plan.setups[0]!.operations.find((o) => o.what === 'rough')!;
    const span = input.programs[0]!.operations.find((o) => o.id === rough.id)!;
    const seconds = span.to - span.from + 1;
    expect(html).toContain(
      `${span.from} to ${span.to} ${seconds >= 60 ? `${Math.floor(seconds / 60)} min ${String(seconds % 60).padStart(2, '0')} s` : `${seconds} s`}`,
    );
    expect(html).toContain(
      'strength is 2.5 times the load (wanted 2), line 100, at X 20.000 Y 10.000, the part then cut through',
    );
    expect(html).toContain('0.013 mm at most, upwards (wanted 0.02), line 99');
  });

  it('gives general tolerances: 42 long is plus or minus 0.3 (ISO 2768-1 m, over 30 to 120)', () => {
    expect(html).toMatch(/length along the part’s X\s+42\s+41\.700\s+42\.300\s+± 0\.3/);
  });

  it('states what is not proven', () => {
    expect(html).toContain('Not proven: uncut stock. A program is absent.');
  });

  it('says loudly that a faulty program is not released', () => {
    const input = quickInput(LEVER);
    const fault = {
      severity: 'fault',
      code: 'x',
      place: {},
      found: 'a gouge',
      wanted: 'none',
      remedy: '',
      program: 0,
      block: 7,
    } as const;
    const faulty = setupSheet({ ...input, report: { ...input.report, faults: [fault] } });
    expect(plainText(faulty)).toContain('NOT RELEASED: the check found 1 fault');
  });

  it('escapes what a job says', () => {
    const text = LEVER.replace('"lifting lever"', '"<b>&\\"lever\\"</b>"');
    expect(setupSheet(quickInput(text))).toContain('&lt;b&gt;&amp;&quot;lever&quot;&lt;/b&gt;');
  });

  it('is the same bytes twice', () => {
    expect(setupSheet(quickInput(LEVER))).toBe(setupSheet(quickInput(LEVER)));
  });
});

function plainText(html: string): string {
  const named: Readonly<Record<string, string>> = {
    '&lt;': '<',
    '&gt;': '>',
    '&amp;': '&',
    '&quot;': '"',
    '&#39;': "'",
    '&nbsp;': ' ',
  };
  return html
    .replace(/<style>[\s\S]*?<\/style>/, '')
    .replace(/<\/(?:td|th|li|p|div|dd|dt|h\d)>/g, ' ')
    .replace(/<[^>]*>/g, '')
    .replace(/&(?:lt|gt|amp|quot|#39|nbsp);/g, (e) => named[e]!)
    .replace(/\s+/g, ' ');
}

/** Elements left open or closed out of order. */
function unclosed(html: string): string[] {
  const open: string[] = [];
  const wrong: string[] = [];
  for (const m of html.matchAll(/<(\/?)([a-z][a-z0-9]*)\b[^>]*?(\/?)>/g)) {
    const [, close, tag, self] = m;
    if (['meta', 'br'].includes(tag!) || self === '/') continue;
    if (close === '') open.push(tag!);
    else if (open.pop() !== tag) wrong.push(`${tag} at ${m.index}`);
  }
  return [...wrong, ...open];
}

function INCH_JOB(): string {
  return JSON.stringify({
    name: 'small link',
    units: 'inch',
    material: 'CuZn39Pb3',
    part: {
      thickness: 0.125,
      outline: {
        bosses: [
          { at: [0, 0], radius: 0.25 },
          { at: [1.25, 0], radius: 0.1875 },
        ],
      },
      holes: [
        { at: [0, 0], drill: 0.125 },
        { at: [1.25, 0], tap: '2-56 UNC' },
      ],
    },
    stock: { size: [3, 1.5, 0.125] },
    place: [{ at: [0.9, 0.75] }],
    clamps: [
      { from: [0, 0], to: [0.3, 1.5], height: 0.4 },
      { from: [2.7, 0], to: [3, 1.5], height: 0.4 },
    ],
  });
}
