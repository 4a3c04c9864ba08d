/** The reference figures are whole and agree with themselves: places on the edge, Betti's law, and balance of every load. */
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

type Row = readonly number[];

interface Place {
  readonly part: number;
  readonly s: number;
  readonly at: Row;
  readonly normal: Row;
  readonly tangent: Row;
  readonly compliance: readonly Row[];
}

interface Figures {
  readonly sample: string;
  readonly state: string;
  readonly frequenciesHz: Row;
  readonly places: readonly Place[];
  readonly tabs: readonly { readonly part: number; readonly point: Row; readonly axes: readonly Row[] }[];
  readonly shares: readonly Row[];
  readonly movements: readonly Row[];
}

interface Piece {
  readonly start: number;
  readonly length: number;
  readonly line?: readonly [Row, Row];
  readonly arc?: { readonly centre: Row; readonly radius: number };
}

interface Geometry {
  readonly thickness: number;
  readonly parts: readonly { readonly length: number; readonly loop: readonly Piece[] }[];
  readonly tabs: readonly { readonly part: number; readonly final: { readonly height: readonly Row[] } }[];
}

const FOLDER = fileURLToPath(new URL('./fixtures/', import.meta.url));
const read = <T>(name: string): T => JSON.parse(readFileSync(FOLDER + name, 'utf8')) as T;
const NAMES = readdirSync(FOLDER);
const FIGURES = NAMES.filter((n) => /-(cut|final)\.json$/.test(n)).map((n) => read<Figures>(n));
const geometryOf = (sample: string): Geometry => read<Geometry>(`${sample}-geometry.json`);

const PLACES = 32;
/** Six digits are kept, so entries err by at most 5e-6 of themselves. */
const ROUNDING = 1e-5;
/** N mm: a patch of 1 mm on an arc of 3.5 mm radius has its middle 0.012 mm inside the arc. */
const OFF_MIDDLE = 0.02;

const dot = (a: Row, b: Row): number => a.reduce((sum, x, i) => sum + x * b[i]!, 0);
const cross = (a: Row, b: Row): number[] => [
  a[1]! * b[2]! - a[2]! * b[1]!,
  a[2]! * b[0]! - a[0]! * b[2]!,
  a[0]! * b[1]! - a[1]! * b[0]!,
];
const add = (a: Row, b: Row): number[] => a.map((x, i) => x + b[i]!);
/** From components along axes to x, y, z. */
const along = (axes: readonly Row[], parts: Row): number[] =>
  [0, 1, 2].map((i) => axes.reduce((sum, axis, a) => sum + axis[i]! * parts[a]!, 0));

function offPiece(piece: Piece, [x, y]: Row): number {
  if (piece.arc) {
    return Math.abs(Math.hypot(x! - piece.arc.centre[0]!, y! - piece.arc.centre[1]!) - piece.arc.radius);
  }
  const [[ax, ay], [bx, by]] = piece.line as [[number, number], [number, number]];
  return Math.abs((bx - ax) * (y! - ay) - (by - ay) * (x! - ax)) / piece.length;
}

it('there are figures for every sample with a described plan', () => {
  const described = NAMES.filter((n) => n.endsWith('-geometry.json')).map((n) => n.replace('-geometry.json', ''));
  expect(described.length).toBeGreaterThan(0);
  for (const sample of described) expect(FIGURES.filter((f) => f.sample === sample).length).toBeGreaterThan(0);
});

describe.each(FIGURES.map((f) => [`${f.sample}, ${f.state}`, f] as const))('%s', (_, f) => {
  const geometry = geometryOf(f.sample);
  const axesOf = (p: Place): Row[] => [
    [...p.normal, 0],
    [...p.tangent, 0],
    [0, 0, 1],
  ];

  it('has its counts', () => {
    expect(f.places.length).toBe(PLACES * geometry.parts.length);
    expect(f.tabs.length).toBe(geometry.tabs.length);
    expect(f.shares.length).toBe(6 * f.tabs.length);
    for (const row of f.shares) expect(row.length).toBe(3 * f.places.length);
    expect(f.movements.map((row) => row.length)).toEqual(new Array(3 * PLACES).fill(3 * PLACES));
    expect(f.frequenciesHz.length).toBe(6);
    expect([...f.frequenciesHz].sort((a, b) => a - b)).toEqual(f.frequenciesHz);
    expect(f.frequenciesHz[0]).toBeGreaterThan(0);
  });

  it('has its places on the edge, evenly, with the normal outwards', () => {
    for (const [i, p] of f.places.entries()) {
      const { loop, length } = geometry.parts[p.part]!;
      expect(p.s).toBeCloseTo(((i % PLACES) * length) / PLACES, 3);
      const piece = loop.findLast((q) => q.start <= p.s + 1e-4)!;
      expect(offPiece(piece, p.at)).toBeLessThan(2e-3);
      expect(dot(p.normal, p.normal)).toBeCloseTo(1, 5);
      expect(dot(p.tangent, [-p.normal[1]!, p.normal[0]!])).toBeCloseTo(1, 5);
    }
  });

  it('has symmetric, positive compliances, the same as in the matrix of movements', () => {
    for (const [i, { compliance: c }] of f.places.entries()) {
      for (let a = 0; a < 3; a++) {
        for (let b = 0; b < 3; b++) {
          expect(Math.abs(c[a]![b]! - c[b]![a]!)).toBeLessThan(ROUNDING * Math.sqrt(c[a]![a]! * c[b]![b]!));
          if (i < PLACES) expect(c[a]![b]).toBe(f.movements[3 * i + a]![3 * i + b]);
        }
      }
      const two = c[0]![0]! * c[1]![1]! - c[0]![1]! * c[1]![0]!;
      expect(c[0]![0]).toBeGreaterThan(0);
      expect(two).toBeGreaterThan(0);
      expect(dot(cross(c[0]!, c[1]!), c[2]!)).toBeGreaterThan(0);
    }
  });

  it("keeps Betti's law between places, and no movement elsewhere passes what energy allows", () => {
    const m = f.movements;
    for (let i = 0; i < m.length; i++) {
      for (let j = 0; j < i; j++) {
        const scale = Math.sqrt(m[i]![i]! * m[j]![j]!);
        expect(Math.abs(m[i]![j]! - m[j]![i]!)).toBeLessThan(ROUNDING * scale);
        expect(Math.abs(m[i]![j]!)).toBeLessThan(scale);
      }
    }
  });

  it('balances each load by the tabs of its part, in force and moment', () => {
    for (const [i, place] of f.places.entries()) {
      const axes = axesOf(place);
      for (let a = 0; a < 3; a++) {
        let force: number[] = [...axes[a]!];
        let moment = cross([...place.at, -geometry.thickness / 2], force);
        for (const [t, tab] of f.tabs.entries()) {
          if (tab.part !== place.part) continue;
          const share = f.shares.slice(6 * t, 6 * t + 6).map((row) => row[3 * i + a]!);
          const pull = along(tab.axes, share.slice(0, 3));
          force = add(force, pull);
          moment = add(add(moment, along(tab.axes, share.slice(3))), cross(tab.point, pull));
        }
        expect(Math.hypot(...force)).toBeLessThan(1e-4);
        expect(Math.hypot(...moment)).toBeLessThan(OFF_MIDDLE);
      }
    }
  });
});

it('a part gives more once its tabs are thinned', () => {
  const cut = FIGURES.filter((f) => f.state === 'cut');
  expect(cut.length).toBeGreaterThan(0);
  for (const before of cut) {
    const after = FIGURES.find((f) => f.sample === before.sample && f.state === 'final')!;
    expect(after.frequenciesHz[0]).toBeLessThan(before.frequenciesHz[0]!);
    for (const [i, row] of before.movements.entries()) expect(after.movements[i]![i]).toBeGreaterThan(row[i]!);
  }
});
