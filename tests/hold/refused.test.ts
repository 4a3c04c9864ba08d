/** Holdings that cannot be: refused by the whole flow before any path is made, each with its reason and what to do. */
import { describe, expect, it } from 'vitest';
import { decide } from '../../src/hold/evaluate/decide.ts';
import { NO_WAY } from '../../src/hold/way.ts';
import { makeJob } from '../../src/job.ts';
import { ROOT, readBesides, shippedPost } from '../helpers.ts';
import { lever, ready } from './scenes.ts';

function refusal(changes: Record<string, unknown>) {
  const stages: string[] = [];
  const out = makeJob({
    text: lever(changes),
    file: 'job.json',
    read: readBesides(ROOT),
    post: shippedPost,
    say: (stage) => stages.push(stage),
  });
  if (out.ok) throw new Error('was not refused');
  expect(stages).not.toContain('paths');
  for (const p of out.problems) {
    for (const words of [p.found, p.wanted, p.remedy]) expect(words).not.toBe('');
    expect(p.place.file).toBe('job.json');
    expect(p.place.path).toBeDefined();
  }
  return out.problems[0]!;
}

const PART = JSON.parse(lever()).part;

describe('refused', () => {
  it('a screw larger than its bore, or than a tapped hole passes', () => {
    const bore = refusal({ hold: { by: 'screws', through: [0], thread: 'M6' } });
    expect(bore.code).toBe('screw-hole-small');
    expect(bore.found).toMatch(/5\.006 mm wide, the screw M6 6 mm/);
    // M2.5 is tapped from 2.05: an M2.5 screw would have to be screwed in, not through.
    const tapped = refusal({ hold: { by: 'screws', through: [1], thread: 'M2.5' } });
    expect(tapped.code).toBe('screw-hole-small');
    expect(tapped.found).toMatch(/2\.05 mm wide, the screw M2\.5 2\.5 mm/);
    // Passes, but with no play to be put in by.
    expect(refusal({ hold: { by: 'screws', through: [1], thread: 'M2' } }).code).toBe('screw-too-wide');
  });

  it('tabs and floors as tall as the part; tabs off the edge; more tabs than fit; tabs on no edge', () => {
    const tabs = (wish: object) => ({ hold: { by: 'tabs', tabs: { count: 3, width: 2, ...wish } } });
    expect(refusal(tabs({ height: 4 })).code).toBe('tab-too-tall');
    expect(refusal({ hold: { by: 'floor', thickness: 4 } }).code).toBe('floor-too-thick');
    expect(refusal(tabs({ count: 1, at: [[100, 100]] })).code).toBe('not-on-edge');
    expect(refusal(tabs({ count: 12, height: 0.8 })).code).toBe('tab-too-many');
    const noTabs = [{ from: [-6, 0], to: [-5.99999, 0.02] }];
    expect(refusal({ part: { ...PART, noTabs } }).code).toBe('tab-no-edge');
  });

  it('a stub on a bore; a clamp over the cut', () => {
    const holes = [PART.holes[1], { at: [-4, 0], drill: 2.05 }];
    const stub = { by: 'stub', at: 0, direction: 180, width: 8 };
    expect(refusal({ part: { ...PART, holes }, hold: stub }).code).toBe('stub-on-bore');
    const over = [{ from: [0, 0], to: [14, 30], height: 12 }];
    expect(refusal({ clamps: over }).code).toBe('clamp-over-cut');
  });

  it('tabs so weak that the part would come loose', () => {
    const weak = refusal({ hold: { by: 'tabs', tabs: { count: 2, width: 0.5, height: 0.2 } } });
    expect(weak.code).toBe('hold-fails');
    expect(weak.found).toMatch(/would come loose: margin 0/);
  });

  it('nothing that holds at all: the part and the moment are named', () => {
    const { scene, net } = ready(lever(), 30);
    const out = decide(scene, net, { way: { ...NO_WAY, by: 'tabs' }, footprint: 0, reasons: [] }, true);
    if (out.kind !== 'refused') throw new Error('was not refused');
    expect(out.problems[0]!.code).toBe('hold-loose');
    expect(out.problems[0]!.found).toMatch(/part 1 is free to move, cut through/);
  });
});
