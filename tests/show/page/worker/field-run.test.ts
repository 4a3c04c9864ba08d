import { describe, expect, it } from 'vitest';
import { unpackMoves } from '../../../../src/show/page/data/moves-pack.ts';
import type { ViewData } from '../../../../src/show/page/data/view-data.ts';
import { distanceField } from '../../../../src/show/page/worker/distance-field.ts';
import { FieldRun } from '../../../../src/show/page/worker/field-run.ts';
import { GOUGED, markCells, markedPlaces, UNCUT } from '../../../../src/show/page/worker/marks.ts';
import { wantedField } from '../../../../src/show/page/worker/wanted-field.ts';
import { random, SEED } from '../../../runs.ts';
import { leverView, longView } from '../fixture.ts';

function runOf(view: ViewData): FieldRun {
  const programs = view.programs.map((p) => ({ moves: unpackMoves(p.moves, p.moveCount), changes: p.changes }));
  return new FieldRun({ stock: view.setups[0]!.stock!, programs, cutters: view.cutters });
}

function marksOf(view: ViewData) {
  const run = runOf(view);
  const heights = run.seek(run.total);
  const wanted = wantedField(run.field, view)!;
  const marks = new Uint8Array(heights.length);
  markCells(heights, wanted, true, marks);
  const count = (mark: number) => marks.reduce((n, m) => n + (m === mark ? 1 : 0), 0);
  return { gouged: count(GOUGED), uncut: count(UNCUT), places: markedPlaces(run.field, heights, wanted, marks), run };
}

describe('the stock at a moment', () => {
  it('is the same however one comes to it', () => {
    const view = longView(3000, false);
    const jumping = runOf(view);
    const next = random(SEED);
    for (let i = 0; i < 12; i++) jumping.seek(next() * jumping.total);
    for (const at of [1234, 17, 2999.5]) {
      const there = jumping.seek(at).slice();
      const straight = runOf(view).seek(at);
      expect(there.every((h, k) => h === straight[k])).toBe(true);
    }
  });

  it('never rises with time', () => {
    const run = runOf(leverView());
    let before = run.seek(0).slice();
    let seen = 0;
    for (let i = 1; i <= run.total; i++) {
      const now = run.seek(i);
      expect(now.every((h, k) => h <= before[k]!)).toBe(true);
      if (now.some((h, k) => h < before[k]!)) seen++;
      before = now.slice();
    }
    expect(seen).toBeGreaterThan(10);
  });
});

describe('marks', () => {
  it('are none on a good program', () => {
    const { gouged, uncut, places } = marksOf(leverView());
    expect([gouged, uncut, places]).toEqual([0, 0, []]);
  });

  it('show a profile run too near the part as a gouge of about that depth and name its move', () => {
    const { gouged, places, run } = marksOf(leverView({ offset: -0.4 }));
    expect(gouged).toBeGreaterThan(500);
    const worst = places.filter((p) => p.kind === 'gouge');
    expect(worst.length).toBeGreaterThan(0);
    expect(worst[0]!.worst).toBeGreaterThan(3);
    const first = run.firstWhere((h) => h[worst[0]!.cell]! < -0.01);
    expect(run.seek(first - 1)[worst[0]!.cell]).toBeGreaterThan(-0.01);
    expect(run.seek(first)[worst[0]!.cell]).toBeLessThan(-0.01);
  });

  it('show a profile left too shallow, or a hole not drilled through, as uncut', () => {
    expect(marksOf(leverView({ bottom: -3.7 })).uncut).toBeGreaterThan(500);
    const shallow = marksOf(leverView({ drillDepth: -2 }));
    expect(shallow.places.map((p) => p.kind)).toEqual(['uncut']);
    expect(shallow.places[0]!.worst).toBeGreaterThan(1.5);
    expect(shallow.gouged).toBe(0);
  });
});

describe('distance field', () => {
  it('agrees with trying every pair', () => {
    const next = random(SEED);
    const [cols, rows] = [23, 17];
    const set = Array.from({ length: cols * rows }, () => next() < 0.03);
    const far = distanceField((k) => set[k]!, cols, rows);
    const members = set.flatMap((s, k) => (s ? [k] : []));
    expect(members.length).toBeGreaterThan(3);
    for (let k = 0; k < far.length; k++) {
      const nearest = Math.min(
        ...members.map((m) => Math.hypot((m % cols) - (k % cols), Math.floor(m / cols) - Math.floor(k / cols))),
      );
      expect(far[k]).toBeCloseTo(nearest, 4);
    }
  });
});
