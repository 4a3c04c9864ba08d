/** The elastic model against the independent three-dimensional one of tests/mechanics/reference: every place, every direction. */
import { describe, expect, it } from 'vitest';
import { elasticBody } from '../../../src/mechanics/elastic/elastic.ts';
import { answer, type HeldElastic, hold } from '../../../src/mechanics/elastic/held.ts';
import { lowestFrequencies } from '../../../src/mechanics/elastic/modes.ts';
import { type Figures, type Geometry, pressedPlaces, read, requestOf } from './reference.ts';

const STIFF_SIDE = 0.9;
const SOFT_SIDE = 1.2;
/** Of a frequency. */
const NEAR = 0.05;

interface Sample {
  readonly name: string;
  readonly states: readonly ('cut' | 'final')[];
  /** Edge of the mesh at the tabs and at the part's edge. */
  readonly fine: number;
  readonly edge: number;
}

const SAMPLES: readonly Sample[] = [
  { name: 'lifting-lever', states: ['cut', 'final'], fine: 1, edge: 1.4 },
  { name: 'warning-lever', states: ['final'], fine: 0.6, edge: 1 },
];

describe.each(SAMPLES)('$name', ({ name, states, fine, edge }) => {
  const geometry = read<Geometry>(`${name}-geometry`);
  const body = elasticBody(requestOf(geometry, states, { fine, grade: 0.6, coarse: 3.5, edge }));
  if (body.kind !== 'body') throw new Error(body.kind);

  it.each(states.map((state, form) => ({ state, form })))(
    '$state: within -10 and +20 % at all places',
    ({ state, form }) => {
      const figures = read<Figures>(`${name}-${state}`);
      const held = heldIn(form);
      const { compliance } = answer(held, pressedPlaces(figures, geometry.thickness));
      const n = 3 * figures.places.length;
      const ratios = figures.places.flatMap(({ normal, tangent, compliance: wanted }, i) =>
        [
          [...normal, 0],
          [...tangent, 0],
          [0, 0, 1],
        ].map((a, k) => {
          let found = 0;
          for (let c = 0; c < 3; c++)
            for (let d = 0; d < 3; d++) found += a[c]! * a[d]! * compliance[(3 * i + c) * n + 3 * i + d]!;
          return found / wanted[k]![k]!;
        }),
      );
      expect(ratios.length).toBe(96);
      expect(Math.min(...ratios)).toBeGreaterThan(STIFF_SIDE);
      expect(Math.max(...ratios)).toBeLessThan(SOFT_SIDE);
    },
  );

  it('lowest four frequencies within 5 %', () => {
    const { frequenciesHz } = read<Figures>(`${name}-${states.at(-1)!}`);
    const found = lowestFrequencies(heldIn(states.length - 1), 4);
    found.forEach((f, i) => expect(Math.abs(f / frequenciesHz[i]! - 1)).toBeLessThan(NEAR));
  });

  function heldIn(form: number): HeldElastic {
    const held = hold(
      body as Extract<typeof body, { kind: 'body' }>,
      geometry.tabs.map(() => form),
    );
    if (held.kind !== 'held') throw new Error('loose');
    return held;
  }
});
