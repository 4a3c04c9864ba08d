/** Laws of the lowered paths: what the moves must satisfy whatever the program, judged by plain geometry. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import type { CanonicalArc, CanonicalMove } from '../../../src/check/language/canonical.ts';
import { readProgram } from '../../../src/check/language/read.ts';
import { runs, SEED } from '../../runs.ts';
import { PREAMBLE } from './conditions.ts';

const settings = (full: number) => ({ seed: SEED, numRuns: runs(full) });
type P = readonly [number, number];

/** Points along a move, for arcs by turning the start about the centre by parts of the sweep. */
function along(m: CanonicalMove): P[] {
  const parts = Array.from({ length: 17 }, (_, i) => i / 16);
  if (m.kind !== 'arc')
    return parts.map((t) => [m.from.x! + t * (m.to.x! - m.from.x!), m.from.y! + t * (m.to.y! - m.from.y!)] as const);
  return parts.map((t) => {
    const [c, s] = [Math.cos(t * m.sweep), Math.sin(t * m.sweep)];
    const [dx, dy] = [m.from.x! - m.centre.x, m.from.y! - m.centre.y];
    return [m.centre.x + c * dx - s * dy, m.centre.y + s * dx + c * dy] as const;
  });
}

function toSegment(p: P, a: P, b: P): number {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const t = Math.max(0, Math.min(1, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (dx * dx + dy * dy)));
  return Math.hypot(p[0] - a[0] - t * dx, p[1] - a[1] - t * dy);
}

it('the compensated path stays exactly one radius off a convex outline, on either side, inch or millimetre', () => {
  let seen = 0;
  fc.assert(
    fc.property(
      fc.integer({ min: 3, max: 9 }),
      fc.nat(359),
      fc.integer({ min: 5, max: 40 }),
      fc.boolean(),
      fc.boolean(),
      (n, turn, size, climb, inch) => {
        // The entry comes along the first edge, so its end centre is turned a little and the first corner gets an arc too.
        // Corners on a circle: clockwise with the cutter on the left, counter-clockwise with it on the right, is outside.
        const corner = (i: number): P => {
          const angle = ((climb ? -1 : 1) * 2 * Math.PI * i) / n + (turn * Math.PI) / 180;
          return [size * Math.cos(angle), size * Math.sin(angle)];
        };
        const corners = Array.from({ length: n + 1 }, (_, i) => corner(i));
        const [c0, c1] = [corners[0]!, corners[1]!];
        const edge = Math.hypot(c1[0] - c0[0], c1[1] - c0[1]);
        const lead: P = [c0[0] - (20 * (c1[0] - c0[0])) / edge, c0[1] - (20 * (c1[1] - c0[1])) / edge];
        const unit = inch ? 25.4 : 1;
        const word = ([x, y]: P) => `X${(x / unit).toFixed(9)} Y${(y / unit).toFixed(9)}`;
        const lines = [
          inch ? 'G20' : 'G21',
          'F100',
          `G0 ${word(lead)}`,
          `${climb ? 'G41' : 'G42'} D1`,
          ...corners.map((p) => `G1 ${word(p)}`),
          'G40',
        ];
        const r = readProgram([...PREAMBLE, ...lines, 'M2'].join('\n'), {
          toolTable: [{ number: 1, diameter: 3, length: 0 }],
        });
        expect(r.problems).toEqual([]);
        const path = r.moves.filter((m) => m.compensated).slice(1);
        expect(path.length).toBe(2 * n);
        for (const m of path) {
          for (const p of along(m)) {
            const distance = Math.min(...corners.slice(1).map((b, i) => toSegment(p, corners[i]!, b)));
            expect(distance).toBeCloseTo(1.5, 6);
          }
        }
        seen++;
      },
    ),
    settings(400),
  );
  expect(seen).toBeGreaterThan(0);
});

it('radius arcs: both ends at |R| from the centre, half a turn or less for R above zero, more below', () => {
  const coordinate = fc.integer({ min: -500, max: 500 }).map((v) => v / 10);
  let seen = 0;
  fc.assert(
    fc.property(
      coordinate,
      coordinate,
      fc.integer({ min: 1, max: 300 }),
      fc.boolean(),
      fc.boolean(),
      fc.constantFrom('G17', 'G18', 'G19'),
      (u, v, extra, long, clockwise, plane) => {
        const chord = Math.hypot(u, v);
        fc.pre(chord > 1);
        const radius = chord / 2 + extra / 10;
        const [first, second] = { G17: 'XY', G18: 'ZX', G19: 'YZ' }[plane]!;
        const line = `${plane} ${clockwise ? 'G2' : 'G3'} ${first}${u.toFixed(4)} ${second}${v.toFixed(4)} R${long ? '-' : ''}${radius.toFixed(6)}`;
        const r = readProgram([...PREAMBLE, 'G0 X0 Y0 Z0', line, 'M2'].join('\n'));
        expect(r.problems).toEqual([]);
        const arc = r.moves.at(-2) as CanonicalArc;
        const distance = (p: { x: number | null; y: number | null; z: number | null }) =>
          Math.hypot(p.x! - arc.centre.x, p.y! - arc.centre.y, p.z! - arc.centre.z);
        expect(distance(arc.from)).toBeCloseTo(radius, 4);
        expect(distance(arc.to)).toBeCloseTo(radius, 4);
        expect(Math.abs(arc.sweep) > Math.PI).toBe(long);
        expect(arc.sweep < 0).toBe(clockwise);
        seen++;
      },
    ),
    settings(1000),
  );
  expect(seen).toBeGreaterThan(0);
});

it('turning the start by the sweep about the centre reaches the end', () => {
  const angle = fc.integer({ min: 1, max: 359 });
  fc.assert(
    fc.property(angle, angle, fc.integer({ min: 1, max: 300 }), fc.boolean(), (start, sweep, size, clockwise) => {
      const r = size / 10;
      const rad = (d: number) => (d * Math.PI) / 180;
      const way = clockwise ? -1 : 1;
      const from: P = [r * Math.cos(rad(start)), r * Math.sin(rad(start))];
      const to: P = [r * Math.cos(rad(start + way * sweep)), r * Math.sin(rad(start + way * sweep))];
      const text = `G0 X${from[0].toFixed(9)} Y${from[1].toFixed(9)}\n${clockwise ? 'G2' : 'G3'} X${to[0].toFixed(9)} Y${to[1].toFixed(9)} I${(-from[0]).toFixed(9)} J${(-from[1]).toFixed(9)}`;
      const arc = readProgram([...PREAMBLE, text, 'M2'].join('\n')).moves.at(-2) as CanonicalArc;
      expect((Math.abs(arc.sweep) * 180) / Math.PI).toBeCloseTo(sweep, 5);
      const end = along(arc).at(-1)!;
      expect(Math.hypot(end[0] - arc.to.x!, end[1] - arc.to.y!)).toBeLessThan(1e-6);
    }),
    settings(1000),
  );
});

it('moves join: each begins where the last one ended', () => {
  const text = [
    ...PREAMBLE,
    'G1 Z-1',
    'G2 X10 Y0 I5',
    'G83 X5 Y5 Z-2 R2 Q0.5',
    'G91 G81 X5 Z-3 R1 L3',
    'G90 G0 Z9',
    'G18 G3 X20 Z9 I2.5',
    'M2',
  ].join('\n');
  const { moves, problems } = readProgram(text);
  expect(problems.filter((p) => p.severity === 'fault').map((p) => p.code)).toEqual([]);
  for (let i = 1; i < moves.length; i++) expect(moves[i]!.from).toEqual(moves[i - 1]!.to);
  expect(moves.length).toBeGreaterThan(20);
});
