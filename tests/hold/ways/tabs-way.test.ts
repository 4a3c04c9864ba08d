/** Tabs need frame to be rooted in: places without it are passed over, and their want has a fault of its own. */
import { describe, expect, it } from 'vitest';
import { candidates, layOn } from '../../../src/hold/scene/candidates.ts';
import type { StockNet } from '../../../src/hold/scene/net.ts';
import { chooseTabs, NO_TAB_REQUEST, TABS_ALONE } from '../../../src/hold/ways/tabs-way.ts';
import { lever, ready } from '../scenes.ts';

const { scene, net } = ready(lever(), 30);
const WISH = { ...NO_TAB_REQUEST, count: 3, width: 2, height: 1 };

/** The frame with nothing within reach left of a line. */
function goneLeftOf(x: number): StockNet {
  return { ...net, root: (p) => (p.x < x ? null : net.root(p)) };
}

function choose(frame: StockNet, count = 3) {
  return chooseTabs(scene, frame, { ...TABS_ALONE, request: { ...WISH, count } }, [], 'quick');
}

function refusal(frame: StockNet, count = 3) {
  const out = choose(frame, count);
  if (out.kind !== 'refused') throw new Error('was not refused');
  return out.problems[0]!;
}

describe('frame to root tabs in', () => {
  it('none within reach of any place: said so, not that the tabs are too many', () => {
    const problem = refusal(goneLeftOf(1000));
    expect(problem.code).toBe('tab-no-root');
    expect(problem.found).toMatch(/3 tabs are wanted; of \d+ places free along the edge, 0 have frame/);
    expect(problem.remedy).toMatch(/move the part or a clamp, .*larger stock.*wider rail.*glue or screws/);
  });

  it('too little of it for the number wanted: the same', () => {
    const all = candidates(scene, 2).places.map((p) => layOn(scene, 0, p).root.x);
    const problem = refusal(goneLeftOf(Math.max(...all) - 1));
    expect(problem.code).toBe('tab-no-root');
    expect(problem.found).not.toMatch(/ 0 have frame/);
  });

  it('on part of the edge: every tab stands there; all round, too many tabs are too many', () => {
    const out = choose(goneLeftOf(30));
    if (out.kind !== 'tabs') throw new Error('refused');
    const at = out.tabs.places.map((p) => layOn(scene, 0, p).root.x);
    expect(at).toHaveLength(3);
    for (const x of at) expect(x).toBeGreaterThanOrEqual(30);
    expect(refusal(net, 12).code).toBe('tab-too-many');
  });
});

describe('outside corners', () => {
  const vertices = (v: number[][]) =>
    ready(
      lever({
        part: { thickness: 4, outline: { vertices: v } },
        stock: { size: [90, 60, 4], measured: 4 },
        place: [{ at: [28, 20] }],
        clamps: [],
      }),
      30,
    ).scene;

  it('no waist reaches round one: a tab 5 wide came out 4.96 there', () => {
    const corners = [
      [0, 0],
      [32.64, 0],
      [32.64, 6.66],
      [6.66, 6.66],
      [6.66, 14.66],
      [0, 14.66],
    ];
    const found = candidates(vertices(corners), 5);
    expect(found.leftOut).toContain('outside corners');
    expect(found.places.length).toBeGreaterThan(20);
    // All but the inside one, whose places are left out farther off.
    for (const p of found.places)
      for (const [x, y] of corners) expect(Math.hypot(p.at.x - x!, p.at.y - y!)).toBeGreaterThanOrEqual(2.5);
  });

  it('where nearly no place is left without, they stay', () => {
    const square = [
      [0, 0],
      [6, 0],
      [6, 6],
      [0, 6],
    ];
    const found = candidates(vertices(square), 5);
    expect(found.leftOut).not.toContain('outside corners');
    expect(found.places.length).toBeGreaterThan(12);
  });
});
