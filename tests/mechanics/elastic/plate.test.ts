/**
 * Plates against closed forms: Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, 2nd edition (figures from memory);
 * the skew plate of Morley, Skew Plates and Structures, 1963 (figure from memory), a published benchmark of plate elements.
 */
import { describe, expect, it } from 'vitest';
import type { PlanMesh } from '../../../src/mechanics/elastic/mesh/mesh.ts';
import { box, circle, heldAt, METAL, meshOf, nodesWhere, platesOf, polygon, pressure, probe, work } from './shapes.ts';

const rigidity = (t: number) => (METAL.modulus * t ** 3) / 12 / (1 - METAL.poisson ** 2);
const onBox = (a: number) => (x: number, y: number) => Math.min(x, y, a - x, a - y) < 1e-9;

/** Upward movement of a place under a pressure of one. */
function sag(
  mesh: PlanMesh,
  thick: number,
  at: readonly [number, number],
  clamped: readonly number[],
  simple: readonly number[] = [],
) {
  const plates = platesOf(mesh, thick);
  const holds = [...heldAt(clamped, [0, 1, 2, 3, 4]), ...heldAt(simple, [2]), ...heldAt(simple.slice(0, 2), [0, 1])];
  const sides = [pressure(mesh), probe(mesh, plates, [...at, thick / 2], 2)];
  return work([...plates.map((p) => p.stiffness), ...holds], sides)[1]!;
}

describe('a square plate under pressure', () => {
  const a = 100;
  const mesh = meshOf([box(0, 0, a, a)], a / 10);
  const edge = nodesWhere(mesh, onBox(a));

  it.each([1e-2, 1e-3])('clamped, thickness/length %s: 0.00126 q a^4/D within a hundredth (table 35)', (thin) => {
    const w = sag(mesh, thin * a, [a / 2, a / 2], edge);
    expect((w * rigidity(thin * a)) / a ** 4).toBeGreaterThan(0.00126 * 0.99);
    expect((w * rigidity(thin * a)) / a ** 4).toBeLessThan(0.00126 * 1.01);
  });

  it.each([1e-2, 1e-3])(
    'simply supported, thickness/length %s: 0.00406 q a^4/D within a hundredth (table 8)',
    (thin) => {
      const w = sag(mesh, thin * a, [a / 2, a / 2], [], edge);
      expect((w * rigidity(thin * a)) / a ** 4).toBeGreaterThan(0.00406 * 0.99);
      expect((w * rigidity(thin * a)) / a ** 4).toBeLessThan(0.00406 * 1.01);
    },
  );
});

it('a clamped round plate sags as Kirchhoff and its shear say within 1 %: q a^4/(64 D) + q a^2/(4 k G t) (art. 17)', () => {
  const [a, t] = [50, 5];
  const mesh = meshOf([circle(0, 0, a, 400)], 7);
  const edge = nodesWhere(mesh, (x, y) => Math.hypot(x, y) > a * 0.985);
  const shear = (5 / 6) * (METAL.modulus / 2.6) * t;
  const wanted = a ** 4 / 64 / rigidity(t) + a ** 2 / 4 / shear;
  // The mesh's chords lie inside the circle: a polygon of equal area is meant.
  const ratio = sag(mesh, t, [0, 0], edge) / wanted;
  expect(ratio).toBeGreaterThan(0.97);
  expect(ratio).toBeLessThan(1.01);
});

it("Morley's skew plate, 30 degrees, simply supported: 0.000408 q a^4/D at its middle, from 4 % under to 6 % over (soft supports)", () => {
  const [a, t] = [100, 1];
  const [c, s] = [a * Math.cos(Math.PI / 6), a / 2];
  const mesh = meshOf([polygon([0, 0], [a, 0], [a + c, s], [c, s])], 6);
  const edge = nodesWhere(
    mesh,
    (x, y) =>
      y < 1e-6 ||
      y > s - 1e-6 ||
      Math.abs(x - y / Math.tan(Math.PI / 6)) < 1e-6 ||
      Math.abs(x - a - y / Math.tan(Math.PI / 6)) < 1e-6,
  );
  const w = (sag(mesh, t, [(a + c) / 2, s / 2], [], edge) * rigidity(t)) / a ** 4;
  expect(w).toBeGreaterThan(0.000408 * 0.96);
  expect(w).toBeLessThan(0.000408 * 1.06);
});

it.each([1e-1, 1e-3])('a cantilever strip, thickness/length %s, ends as Timoshenko beam within a hundredth', (thin) => {
  const [length, wide] = [100, 10];
  const t = thin * length;
  const metal = { ...METAL, poisson: 0 };
  const mesh = meshOf([box(0, 0, length, wide)], 5);
  const plates = platesOf(mesh, t, metal);
  const root = nodesWhere(mesh, (x) => x < 1e-9);
  const tip = probe(mesh, plates, [length, wide / 2, t / 2], 2);
  const w = work([...plates.map((p) => p.stiffness), ...heldAt(root, [0, 1, 2, 3, 4])], [tip])[0]!;
  const inertia = (wide * t ** 3) / 12;
  const wanted = length ** 3 / (3 * metal.modulus * inertia) + length / ((5 / 6) * (metal.modulus / 2) * wide * t);
  expect(w / wanted).toBeGreaterThan(0.99);
  expect(w / wanted).toBeLessThan(1.01);
});
