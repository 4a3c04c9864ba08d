/** Jobs whose programs are spoiled: the samples, and small ones here for the features and holdings that those lack. */
import type { Made } from '../../src/job.ts';
import type { CutterKind, Job } from '../../src/part/part.ts';
import { mustMake, mustMakeSample, programsUnder } from '../helpers.ts';
import { randomLever } from '../laws/random-lever.ts';
import { runs, SEED } from '../runs.ts';

export interface Text {
  readonly file: string;
  readonly text: string;
}

export interface Good {
  /** `lifting-lever, plain` */
  readonly name: string;
  readonly job: Job;
  readonly programs: readonly Text[];
}

const MILL: CutterKind = 'end mill';
const CLAMPS = [
  { from: [0, 0], to: [8, 40], height: 12 },
  { from: [82, 0], to: [90, 40], height: 12 },
];

/** A lever with a blind hole, a countersink, a bore milled round, a pocket with an island and a slot right through. */
const FEATURES = {
  name: 'features',
  material: 'EN-AW-6082-T6',
  part: {
    thickness: 4,
    outline: {
      bosses: [
        { at: [0, 0], radius: 9 },
        { at: [44, 0], radius: 8 },
      ],
    },
    holes: [
      { at: [0, 0], bore: 7.2 },
      { at: [44, 4], drill: 2.5, depth: 2.5 },
      { at: [44, -3], clear: 'M2', countersink: true },
    ],
    pockets: [
      {
        outline: { slot: { from: [16, 0], to: [24, 0], width: 9 } },
        islands: [{ circle: { at: [20, 0], diameter: 2.4 } }],
        depth: 1.5,
      },
      { outline: { slot: { from: [33, -1], to: [33, 1], width: 4 } }, through: true },
    ],
  },
  stock: { size: [90, 40, 4], measured: 4 },
  place: [{ at: [22, 20] }],
  clamps: CLAMPS,
  cutters: [
    {
      number: 1,
      kind: MILL,
      diameter: 3,
      flutes: 2,
      fluteLength: 9,
      stickOut: 20,
      shank: 3,
      material: 'carbide',
      centreCutting: true,
    },
    { number: 2, kind: 'spot drill', diameter: 6, angle: 90 },
    { number: 3, kind: 'drill', diameter: 2.5 },
    { number: 4, kind: 'drill', diameter: 2.4 },
    { number: 5, kind: 'drill', diameter: 6 },
    { number: 6, kind: 'countersink', diameter: 8, angle: 90 },
  ],
  hold: { by: 'tabs', tabs: { count: 4, width: 2, height: 0.8 } },
};

function lever(name: string, change: object): object {
  return {
    name,
    material: 'CuZn39Pb3',
    part: {
      thickness: 3,
      outline: {
        bosses: [
          { at: [0, 0], radius: 7 },
          { at: [36, 0], radius: 6 },
        ],
      },
      holes: [
        { at: [0, 0], drill: 4.3 },
        { at: [36, 0], drill: 4.3 },
      ],
    },
    stock: { size: [90, 40, 3], measured: 3 },
    place: [{ at: [26, 20] }],
    clamps: CLAMPS,
    cutters: [
      {
        number: 1,
        kind: MILL,
        diameter: 3,
        flutes: 2,
        fluteLength: 9,
        stickOut: 18,
        shank: 3,
        material: 'carbide',
        centreCutting: true,
      },
      { number: 2, kind: 'spot drill', diameter: 6, angle: 90 },
      { number: 3, kind: 'drill', diameter: 4.3 },
      { number: 4, kind: 'drill', diameter: 3.3 },
    ],
    ...change,
  };
}

/** A blind slot out over the end and a notch in the side. */
const OPEN = lever('open', {
  part: {
    thickness: 3,
    outline: {
      bosses: [
        { at: [0, 0], radius: 8 },
        { at: [36, 0], radius: 7 },
      ],
    },
    holes: [{ at: [0, 0], drill: 4.3 }],
    pockets: [
      { outline: { slot: { from: [31, 0], to: [50, 0], width: 4.4 } }, depth: 1.2 },
      {
        outline: {
          vertices: [
            [13, 3],
            [19, 3],
            [19, 12],
            [13, 12],
          ],
        },
        through: true,
      },
    ],
  },
  hold: { by: 'tabs', tabs: { count: 3, width: 2, height: 0.8 } },
});

const OWN: Readonly<Record<string, object>> = {
  features: FEATURES,
  open: OPEN,
  floor: lever('floor', { hold: { by: 'floor', thickness: 0.3 } }),
  stub: lever('stub', {
    place: [{ at: [64, 20], mirror: true }],
    hold: { by: 'stub', at: 0, direction: 180, width: 8 },
  }),
  screws: lever('screws', { hold: { by: 'screws', through: [0, 1], thread: 'M4' } }),
  pair: lever('pair', {
    stock: { size: [90, 70, 3], measured: 3 },
    clamps: [
      { from: [0, 0], to: [8, 70], height: 12 },
      { from: [82, 0], to: [90, 70], height: 12 },
    ],
    place: [{ at: [26, 20] }, { at: [64, 50], mirror: true }],
    hold: { by: 'tabs', tabs: { count: 3, width: 2, height: 0.8 } },
  }),
};

const SAMPLES = ['lifting-lever', 'warning-lever', 'click', 'frame-cock'];
const POSTS = ['standard', 'plain', 'lines', 'inch'];
const LEVERS = 6;

/** One of each job in short runs, so that few need to be made; with every post among them. Checked in 0.03, 0.1 and 0.2 seconds each. */
const FEW = runs(10) < 10;
const FEW_NAMES = [
  ['floor, inch', 'screws, standard', 'floor, plain', 'floor, lines'],
  ['stub, standard', 'open, standard', 'features, standard', 'pair, plain', 'features, plain'],
  ['lifting-lever, standard', 'warning-lever, plain'],
];

/** Name and maker of every good program, made when asked for and kept. */
export const GOODS: readonly { readonly name: string; readonly make: () => Good }[] = [
  ...SAMPLES.flatMap((s) => POSTS.map((post) => entry(s, post, () => mustMakeSample(s)))),
  ...Object.entries(OWN).flatMap(([n, job]) =>
    POSTS.map((post) => entry(n, post, () => mustMake(JSON.stringify(job, null, 1)))),
  ),
  ...Array.from({ length: LEVERS }, (_, i) =>
    entry(`lever ${SEED + i}`, POSTS[i % POSTS.length]!, () => mustMake(randomLever(SEED + i).text)),
  ),
].filter((g) => !FEW || FEW_NAMES.flat().includes(g.name));

/** The same in the order in which a kind of fault looks for a spot: turned round by the kind's number, quick ones first in short runs. */
export function* goodsFor(kind: number): Generator<Good> {
  const names = FEW ? FEW_NAMES : [GOODS.map((g) => g.name)];
  const order = names.flatMap((alike) => alike.map((_, i) => alike[(i * strideOf(alike) + kind * 5) % alike.length]!));
  for (const name of order) yield GOODS.find((g) => g.name === name)!.make();
}

/** A step that meets every one of them. */
function strideOf(alike: readonly string[]): number {
  return [7, 11, 13].find((n) => alike.length % n !== 0)!;
}

function entry(name: string, post: string, make: () => Made) {
  let made: Good | undefined;
  const once = (): Good => {
    if (made === undefined) {
      const first = make();
      const programs = post === first.post.name ? first.programs : programsUnder(first, post);
      made = { name: `${name}, ${post}`, job: first.job, programs };
    }
    return made;
  };
  return { name: `${name}, ${post}`, make: once };
}
