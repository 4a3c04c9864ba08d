/** Meshes of second order: they fill what they should, no angle is too small, and what cannot be meshed says why. */
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { MeshLine, PlanPoint } from '../../../src/mechanics/elastic/mesh/lines.ts';
import { planMesh } from '../../../src/mechanics/elastic/mesh/mesh.ts';
import { areaOf, box, circle, inside, meshOf, polygon } from './shapes.ts';

const MIN_ANGLE = (20 * Math.PI) / 180;

describe('a mesh', () => {
  it('fills a plate with a hole, with no angle under 20 degrees (Ruppert 1995: 20.7)', () => {
    const hole = circle(10, 10, 4);
    const mesh = meshOf([box(0, 0, 40, 20), hole], 2);
    // The hole is a polygon of the mesh: between the circle and one of 14 sides.
    expect(areaOf(mesh)).toBeGreaterThan(800 - Math.PI * 16);
    expect(areaOf(mesh)).toBeLessThan(800 - 7 * 16 * Math.sin((2 * Math.PI) / 14));
    expect(mesh.leastAngle).toBeGreaterThan(MIN_ANGLE);
  });

  it('holds the laws for stars of any shape: area, angles, edges shared by two, no larger than wanted', () => {
    let seen = 0;
    fc.assert(
      fc.property(fc.array(fc.double({ min: 6, max: 14, noNaN: true }), { minLength: 7, maxLength: 14 }), (radii) => {
        const star = polygon(
          ...radii.map((r, i): PlanPoint => {
            const turn = (2 * Math.PI * i) / radii.length;
            return [r * Math.cos(turn), r * Math.sin(turn)];
          }),
        );
        const mesh = meshOf([star], 2);
        seen += mesh.region.length;
        expect(areaOf(mesh)).toBeCloseTo(areaOfPolygon(star), 5);
        const sides = new Map<number, number>();
        mesh.elements.forEach((n, i) => {
          if (i % 6 > 2) sides.set(n, (sides.get(n) ?? 0) + 1);
        });
        expect(Math.max(...sides.values())).toBeLessThanOrEqual(2);
        const lone = [...sides].filter(([, times]) => times === 1).map(([n]) => n);
        for (const n of lone) expect(onLine(star, [mesh.x[n]!, mesh.y[n]!])).toBeLessThan(1e-9);
      }),
      { numRuns: 30 },
    );
    expect(seen).toBeGreaterThan(3000);
  });

  it('is finer where that is wanted', () => {
    const request = {
      lines: [box(0, 0, 40, 40)],
      regionAt: (x: number, y: number) => (inside(box(0, 0, 40, 40), x, y) ? 0 : -1),
    };
    const count = (size: (x: number, y: number) => number) => {
      const mesh = planMesh({ ...request, size });
      return mesh.kind === 'mesh' ? mesh.region.length : 0;
    };
    const coarse = count(() => 4);
    const local = count((x, y) => Math.min(4, 0.5 + 0.4 * Math.hypot(x, y)));
    expect(local).toBeGreaterThan(coarse);
    expect(local).toBeLessThan(count(() => 1) / 2);
  });
});

describe('what cannot be meshed', () => {
  const tried = (lines: MeshLine[], most?: number) =>
    planMesh({
      lines,
      size: () => 2,
      regionAt: (x, y) => (inside(lines[0]!, x, y) ? 0 : -1),
      ...(most && { mostVertices: most }),
    });

  it.each([
    ['crossing', [box(0, 0, 20, 20), box(9.3, 9.3, 30, 30)]],
    ['neck', [box(0, 0, 20, 20), box(0.02, 5, 10, 10)]],
    ['neck', [box(0, 0, 20, 20), circle(5, 10, 3), circle(11.03, 10, 3)]],
    ['empty', []],
    ['not-finite', [polygon([0, 0], [10, Number.NaN], [10, 10])]],
  ])('says %s', (reason, lines) => {
    expect(tried(lines)).toMatchObject({ kind: 'no-mesh', reason });
  });

  it('stops at the most vertices', () => {
    expect(tried([box(0, 0, 200, 200)], 500)).toEqual({ kind: 'no-mesh', reason: 'too-many' });
  });
});

function areaOfPolygon({ points }: MeshLine): number {
  return points.reduce((sum, [x, y], i) => {
    const [u, v] = points[(i + 1) % points.length]!;
    return sum + (x * v - u * y) / 2;
  }, 0);
}

function onLine({ points }: MeshLine, [x, y]: PlanPoint): number {
  return Math.min(
    ...points.map(([ax, ay], i) => {
      const [bx, by] = points[(i + 1) % points.length]!;
      const share = Math.max(
        0,
        Math.min(1, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / ((bx - ax) ** 2 + (by - ay) ** 2)),
      );
      return Math.hypot(x - ax - share * (bx - ax), y - ay - share * (by - ay));
    }),
  );
}
