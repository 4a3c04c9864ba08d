/** Order of work, and the stops in it. */
import { describe, expect, it } from 'vitest';
import { lever, only, planOf, withHole } from './jobs.ts';

describe('order', () => {
  it('holes, then the outline rough, through, fine, then its chamfer (common practice: the part stays rigid to the end)', () => {
    const p = planOf(
      withHole({ ream: 5 }, (j) => {
        j.part.holes.push({ at: [42, 0], tap: 'M3' }, { at: [20, 0], clear: 'M2', countersink: true });
        j.part.chamfer = 0.2;
        j.stock.above = 0.5;
        j.stock.size[2] = 4.5;
        delete j.stock.measured;
      }),
    );
    const order = p.operations.map((o) => o.what);
    const ranks = ['face', 'spot', 'drill', 'countersink', 'ream', 'tap', 'rough', 'finish', 'chamfer'];
    const seen = order.map((w) => ranks.indexOf(w));
    expect(seen).toEqual([...seen].sort((a, b) => a - b));
    expect(new Set(order)).toEqual(new Set(ranks));
    expect(p.operations.map((o) => o.id)).toEqual(p.operations.map((_, i) => i));
  });
});

describe('stops', () => {
  it('the slot is brushed out before the pass that goes through and before finishing', () => {
    const p = planOf(lever());
    const rough = p.operations.filter((o) => o.what === 'rough');
    expect(rough.length).toBe(2);
    const [upper, through] = [rough[0]!, rough[1]!];
    expect(upper.stopBefore).toBeNull();
    expect(through.stopBefore!.kind).toBe('swarf');
    expect(through.from).toBe(upper.depths.at(-1));
    expect(only(through.depths)).toBeLessThanOrEqual(-4);
    expect(only(p.operations.filter((o) => o.what === 'finish')).stopBefore!.kind).toBe('swarf');
  });

  it('a stop to measure: a pass that leaves a little, the sizes to read, the last pass', () => {
    const p = planOf(withHole({ ream: 5 }, (j) => (j.finish = { stopToMeasure: true, springPass: true })));
    const [first, last] = p.operations.filter((o) => o.what === 'finish');
    expect(first!.allowance).toBeCloseTo(0.05, 9);
    expect(last!.allowance).toBe(0);
    expect(last!.leadAside).toBeCloseTo(first!.allowance, 9);
    expect([first!.turns, last!.turns]).toEqual([1, 2]);
    const stop = last!.stopBefore!;
    expect(stop.kind).toBe('measure');
    const words = stop.lines.join('\n');
    // 24 mm across the larger boss, with 0.05 mm left on each side.
    expect(words).toContain('Across boss 1: 24.1 mm now');
    expect(words).toContain('nominal 24.1');
    // ISO 286-2: 5 H7 is +12/0 micrometres.
    expect(words).toContain('a plug of 5 mm goes in, one of 5.012 mm does not');
  });

  it('a correction of what was measured changes one diameter, which the plan then uses', () => {
    const p = planOf(lever((j) => (j.finish = { measured: { feature: 'outside', nominal: 24.1, actual: 24.14 } })));
    const op = p.operations.find((o) => o.what === 'finish')!;
    const cutter = p.plan.cutters.find((c) => c.number === op.cutter)!;
    expect(cutter.diameter).toBeCloseTo(cutter.nominal - 0.04, 9);
  });

  it('in inches the stop speaks inches', () => {
    const p = planOf({
      units: 'inch',
      material: 'CuZn39Pb3',
      part: { thickness: 0.125, outline: { circle: { at: [0, 0], diameter: 1 } } },
      stock: { size: [4, 2, 0.125] },
      finish: { stopToMeasure: true },
    });
    const words = p.operations.filter((o) => o.what === 'finish')[1]!.stopBefore!.lines.join(' ');
    expect(words).toContain('Diameter: 1.0039 in now');
    expect(words).not.toMatch(/\bmm\b/);
  });
});

describe('reasons', () => {
  it('every operation says why, and what held its figures', () => {
    let seen = 0;
    for (const material of ['11SMn30', '1.4301', 'CuZn39Pb3', 'EN-AW-6082-T6', 'POM']) {
      const p = planOf(withHole({ ream: 5 }, (j) => (j.material = material)));
      for (const op of p.operations) {
        expect(op.reasons.length).toBeGreaterThan(0);
        seen++;
      }
      const slot = p.operations.find((o) => o.what === 'rough')!;
      expect(slot.reasons.join(' ')).toMatch(/depth of cut .*(held by .* of |as the handbook gives)/);
    }
    expect(seen).toBeGreaterThan(25);
  });

  it('a motor too weak for the handbook cut is said with both figures', () => {
    const p = planOf(lever((j) => Object.assign(j, { material: 'C45', machine: { power: 15 } })));
    const rough = p.operations.find((o) => o.what === 'rough')!;
    expect(rough.reasons.join(' ')).toMatch(/held by power: \d+ of 14 W there are at \d+ rev/);
    expect(rough.power).toBeLessThanOrEqual(15);
  });
});
