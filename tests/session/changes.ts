/** Changes of the small lever, as a person at a drawing board makes them: most can be made, some are refused. */
import { random } from '../runs.ts';

type Loose = any;

const CHANGES: readonly ((job: Loose, among: (from: number, to: number) => number) => void)[] = [
  (job, among) => (job.part.outline.bosses[1].at = [among(26, 34), among(-3, 3)]),
  (job, among) => (job.part.outline.bosses[0].radius = among(5, 7)),
  (job, among) => (job.part.holes[1].at = job.part.outline.bosses[1].at.map((v: number) => v + among(-0.5, 0.5))),
  (job, among) => (job.part.holes[0].ream = [3, 4, 5][Math.floor(among(0, 3))]),
  (job, among) => (job.part.chamfer = [0, 0.2, 0.3][Math.floor(among(0, 3))]),
  (job, among) => (job.place = [{ at: [among(20, 26), among(14, 16)], turn: among(-4, 4) }]),
  (job, among) => (job.hold = { by: 'tabs', tabs: { count: Math.floor(among(2, 5)) } }),
  (job) =>
    (job.hold = {
      by: 'tabs',
      tabs: {
        at: [
          [-6, 0],
          [16, 5],
          [36, 0],
        ],
        width: 2,
        height: 0.9,
      },
    }),
  (job) => delete job.hold,
  (job, among) => (job.finish = { allowance: among(0.1, 0.3), springPass: among(0, 1) > 0.5 }),
  (job, among) => (job.material = ['CuZn39Pb3', 'S275JR', 'EN-AW-6082-T6'][Math.floor(among(0, 3))]),
  (job, among) => (job.post = ['standard', 'plain', 'lines', 'inch'][Math.floor(among(0, 4))]),
  (job, among) => (job.machine = { maxFeed: among(300, 900) }),
  (job) => delete job.machine,
  // Refused by the reader, by the plan and by the holding.
  (job) => (job.part.holes[1].tap = 'M99'),
  (job) => (job.part.holes[1] = { ...job.part.holes[1], tap: 'M2.5' }),
  (job, among) => (job.clamps[0].to[0] = among(0, 1) > 0.7 ? 14 : 8),
  (job) => (job.clamps[0].to[0] = 8),
];

/** The job as JSON, one change after another, as many as are asked for. */
export function* changed(first: Loose, count: number, seed: number): Generator<string> {
  const draw = random(seed);
  const among = (from: number, to: number) => Math.round((from + draw() * (to - from)) * 1000) / 1000;
  const job = first;
  for (let i = 0; i < count; i++) {
    CHANGES[Math.floor(draw() * CHANGES.length)]!(job, among);
    yield JSON.stringify(job, null, 1);
  }
}
