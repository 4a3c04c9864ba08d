/**
 * Hole recipes against published tables: ISO 286-2 (limits of H7: 5 mm +12/0, 3 mm +10/0, 8 mm +15/0 micrometres),
 * ISO 2306 (tapping drills), BS 93 practice (BA), ISO 273:1979 (clearance), ISO 15065 (countersinks).
 */
import { describe, expect, it } from 'vitest';
import { type Loose, leverWith, read, readGood, theFault } from './jobs.ts';

const plate = (hole: Loose): Loose => ({
  material: 'S275JR',
  part: { thickness: 6, outline: { circle: { at: [0, 0], diameter: 60 } }, holes: [{ at: [0, 0], ...hole }] },
});
const made = (hole: Loose) => readGood(plate(hole)).part.holes[0]!;

describe('holes', () => {
  it.each([
    [{ ream: 5 }, 5.006, 5, 5.012],
    [{ ream: 3, fit: 'H7' }, 3.005, 3, 3.01],
    [{ ream: 8, fit: 'H7' }, 8.0075, 8, 8.015],
    [{ ream: 6, fit: 'G7' }, 6.01, 6.004, 6.016],
    [{ bore: 12, fit: 'H7' }, 12.009, 12, 12.018],
  ])('%j is the mean of its limits', (hole, diameter, least, most) => {
    const h = made(hole);
    expect(h.diameter).toBeCloseTo(diameter, 9);
    expect(h.limits!.least).toBeCloseTo(least, 9);
    expect(h.limits!.most).toBeCloseTo(most, 9);
  });

  it.each([
    ['M2', 1.6],
    ['M2.5', 2.05],
    ['M3', 2.5],
    ['M4', 3.3],
    ['M5', 4.2],
    ['M6', 5],
    ['M8', 6.8],
    ['M3x0.35', 2.65],
    ['6BA', 2.3],
    ['4 BA', 3],
    ['2BA', 4],
  ])('tap %s is drilled %d', (tap, drill) => {
    const h = made({ tap });
    expect(h.diameter).toBe(drill);
    expect(h.limits!.least).toBeLessThanOrEqual(drill);
    expect(h.limits!.most).toBeGreaterThanOrEqual(drill);
  });

  it.each(['ME 1/4x40', '2-56 UNC', '10-32 UNF'])('knows %s', (tap) => {
    const h = made({ tap });
    expect(h.make).toMatchObject({ kind: 'tap' });
    expect(h.diameter).toBeGreaterThan(1);
  });

  it('a wanted engagement chooses the drill: 75 % of the ISO overlap of M3 is 2.594, nearest 2.6', () => {
    const h = made({ tap: 'M3', engagement: 0.75 });
    expect(h.diameter).toBe(2.6);
    expect(h.make).toMatchObject({ engagement: 0.75 });
  });

  it.each([
    ['M2', undefined, 2.4],
    ['M3', 'fine', 3.2],
    ['M3', 'medium', 3.4],
    ['M3', 'coarse', 3.6],
    ['M6', undefined, 6.6],
  ])('clear %s %s is %d', (clear, series, diameter) => {
    expect(made(series === undefined ? { clear } : { clear, series }).diameter).toBe(diameter);
  });

  it('countersinks for the screw of its clearance hole, 90 degrees', () => {
    expect(made({ clear: 'M3', countersink: true }).countersink).toEqual({ diameter: 6.3, angle: 90 });
    expect(made({ drill: 3, countersink: { diameter: 7, angle: 60 } }).countersink).toEqual({ diameter: 7, angle: 60 });
    expect(made({ drill: 3, countersink: false }).countersink).toBeNull();
  });

  it('drill and bore are that very size; depth makes it blind', () => {
    expect(made({ drill: 3.25, depth: 2 })).toMatchObject({ diameter: 3.25, depth: 2, limits: null });
    expect(made({ bore: 10 })).toMatchObject({
      diameter: 10,
      depth: null,
      make: { kind: 'bore', nominal: 10, fit: null },
    });
  });

  it('says which defaults it took', () => {
    const words = readGood(plate({ ream: 5 })).defaults.join('\n');
    expect(words).toMatch(/reamed 5 mm .* H7/);
    expect(readGood(plate({ clear: 'M3' })).defaults.join('\n')).toMatch(/M3 .* medium/);
  });
});

describe('holes that cannot be', () => {
  it.each([
    [{}, 'hole-recipe'],
    [{ drill: 3, ream: 3 }, 'hole-recipe'],
    [{ drill: 3, fit: 'H7' }, 'key-not-for-hole'],
    [{ drill: 3, series: 'fine' }, 'key-not-for-hole'],
    [{ clear: 'M3', engagement: 0.7 }, 'key-not-for-hole'],
    [{ ream: 5, fit: 'h7' }, 'unknown-fit'],
    [{ ream: 5, fit: 'X7' }, 'unknown-fit'],
    [{ ream: 55, fit: 'H7' }, 'unknown-fit'],
    [{ tap: 'M3.1' }, 'unknown-thread'],
    [{ tap: '7/32 rope' }, 'unknown-thread'],
    [{ clear: 'N3' }, 'unknown-thread'],
    [{ clear: '6BA', series: 'coarse' }, 'unknown-clearance'],
    [{ drill: 3, countersink: true }, 'countersink-size'],
    [{ clear: '6BA', countersink: true }, 'countersink-size'],
    [{ drill: 3, countersink: { diameter: 2 } }, 'countersink-small'],
    [{ drill: 3, countersink: { diameter: 20 } }, 'countersink-deep'],
    [{ drill: 3, counterbore: { diameter: 3, depth: 1 } }, 'counterbore-small'],
    [{ drill: 3, counterbore: { diameter: 6, depth: 6 } }, 'counterbore-deep'],
    [{ drill: 3, depth: 6 }, 'hole-too-deep'],
    [{ drill: 0 }, 'out-of-range'],
    [{ drill: -2 }, 'out-of-range'],
  ])('%j is %s', (hole, code) => {
    const problem = theFault(plate(hole));
    expect(problem.code).toBe(code);
    expect(problem.place.path).toContain('part.holes[0]');
    expect(problem.place.line).toBeGreaterThan(0);
  });

  it.each([
    ['M3.1', 'M3'],
    ['M2,4', 'M2'],
  ])('offers a thread near to %s', (tap) => {
    expect(theFault(plate({ tap })).remedy).toMatch(/did you mean M/);
  });

  it('a small letter is a shaft', () => {
    expect(theFault(plate({ ream: 5, fit: 'h7' })).remedy).toContain('capital');
  });
});

describe('where holes lie', () => {
  it.each<[string, (j: Loose) => void, string]>([
    ['outside', (j) => (j.part.holes[1].at = [60, 0]), 'hole-outside'],
    ['on the edge', (j) => (j.part.holes[1].at = [36, 0]), 'hole-outside'],
    ['through the edge', (j) => (j.part.holes[1].at = [35.5, 0]), 'hole-through-edge'],
    ['wall of 0.1 mm', (j) => (j.part.holes[1].at = [32 + 4 - 1.25 - 0.1, 0]), 'wall-too-thin'],
    ['over each other', (j) => j.part.holes.push({ at: [3, 0], drill: 3 }), 'holes-overlap'],
    ['nearly over each other', (j) => j.part.holes.push({ at: [2.503 + 1 + 0.15, 0], drill: 2 }), 'wall-too-thin'],
    ['one on another', (j) => j.part.holes.push({ at: [0, 0], drill: 3 }), 'holes-overlap'],
    [
      'recess over the edge',
      (j) => j.part.holes.push({ at: [12, 3.2], drill: 1, countersink: { diameter: 6 } }),
      'recess-through-edge',
    ],
  ])('%s', (_, change, code) => {
    const problem = theFault(leverWith(change));
    expect(problem.code).toBe(code);
    expect(problem.place.at).toBeDefined();
  });

  it.each([
    ['reaches the edge', 36, 'touches the edge of the part'],
    ['is 0.4 um short of it', 35.9996, 'touches the edge of the part'],
    ['runs 0.1 mm over it', 36.1, 'breaks by 0.1 mm into the edge'],
  ])('a hole that %s is told so, and never by a figure of 0', (_, end, words) => {
    const problem = theFault(leverWith((j) => (j.part.holes[1] = { at: [32, 0], drill: 2 * (end - 32) })));
    expect(problem.code).toBe('hole-through-edge');
    expect(problem.found).toContain(words);
  });

  it('a thread of little engagement is a caution, and has no limits of the standard', () => {
    expect(theCautions(plate({ tap: 'M6', engagement: 0.4 }))).toEqual(['thread-shallow']);
    expect(made({ tap: 'M6', engagement: 0.4 }).limits).toBeNull();
  });

  it('a wall below a quarter of the hole is a caution', () => {
    const job = leverWith((j) => (j.part.holes[0] = { at: [0, 0], ream: 9 }));
    expect(theCautions(job)).toEqual(['wall-thin']);
  });
});

function theCautions(job: Loose): string[] {
  const outcome = read(job);
  expect(outcome.ok).toBe(true);
  return outcome.problems.map((p) => p.code);
}
