/** Holding: the ways of the sample lever compared, its holding chosen, and a million 6x6 load cases. */
import { createHash } from 'node:crypto';
import { chooseHolding } from '../../src/hold/ways/choose.ts';
import { compareHoldings } from '../../src/hold/ways/compare.ts';
import { edgeAxes, loadAt, springs } from '../../src/mechanics/support/supports.ts';
import { inputOf, ready, sampleText } from '../hold/scenes.ts';
import { holdBody, motionUnder } from '../mechanics/oracles/rigid-body.ts';
import { random, SEED } from '../runs.ts';
import type { Row } from './row.ts';

const TIMES = 5;
const CASES = 1_000_000;

export async function bench(): Promise<Row[]> {
  const { job, plan } = ready(sampleText('lifting-lever'), 30);
  // With new tables each time, so that the search is measured too.
  const compared = median(() => compareHoldings(inputOf(job, plan)));
  const chosen = median(() => chooseHolding(inputOf(job, plan)));
  const scores = compared.answer.ok ? compared.answer.value : [];
  const holding = chosen.answer.ok ? chosen.answer.value : null;
  const cases = loadCases();
  return [
    {
      name: 'ways of holding the lifting lever compared',
      value: compared.ms,
      unit: 'ms',
      limit: 500,
      checksum: digest(scores.map((s) => [s.name, s.margin.least.toFixed(4), s.movement.most.toFixed(6)])),
    },
    {
      name: 'holding of the lifting lever chosen',
      value: chosen.ms,
      unit: 'ms',
      limit: 250,
      checksum: digest(holding?.tabs.map((t) => [t.at.x.toFixed(4), t.at.y.toFixed(4)])),
    },
    {
      name: 'a million load cases on six supports',
      value: cases.ms,
      unit: 'ms',
      limit: 3000,
      checksum: cases.checksum,
    },
  ];
}

function loadCases(): { readonly ms: number; readonly checksum: string } {
  const supports = Array.from({ length: 6 }, (_, i) => {
    const angle = (i * Math.PI) / 3;
    return springs([20 * Math.cos(angle), 10 * Math.sin(angle), -3], edgeAxes(angle), 9e4, 1.5e4, 3e3);
  });
  const body = holdBody(supports);
  if (body.kind !== 'held') throw new Error('loose');
  const r = random(SEED);
  const loads = Array.from({ length: 64 }, () =>
    loadAt(body.origin, [40 * (r() - 0.5), 20 * (r() - 0.5), -2], [60 * (r() - 0.5), 60 * (r() - 0.5), 20 * r()]),
  );
  const out = new Float64Array(6);
  let sum = 0;
  const begun = performance.now();
  for (let i = 0; i < CASES; i++) sum += motionUnder(body, loads[i % 64]!, out)[2]!;
  return { ms: performance.now() - begun, checksum: digest(sum.toFixed(6)) };
}

function median<T>(run: () => T): { readonly ms: number; readonly answer: T } {
  const times: number[] = [];
  let answer = run();
  for (let i = 0; i < TIMES; i++) {
    const begun = performance.now();
    answer = run();
    times.push(performance.now() - begun);
  }
  return { ms: times.sort((a, b) => a - b)[Math.floor(TIMES / 2)]!, answer };
}

function digest(value: unknown): string {
  return createHash('sha256').update(JSON.stringify(value)).digest('hex').slice(0, 12);
}
