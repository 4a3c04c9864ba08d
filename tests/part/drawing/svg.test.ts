/** SVG by the published standard (W3C SVG 1.1 second edition; section numbers below are its). */
import { describe, expect, test } from 'vitest';
import { loopArea } from '../../../src/geometry/measure/loop.ts';
import { type EllipticArc, ellipsePoint } from '../../../src/part/drawing/curve/curve.ts';
import { pickOutline } from '../../../src/part/drawing/pick.ts';
import { svgArc } from '../../../src/part/drawing/svg/path.ts';
import { random, runs, SEED } from '../../runs.ts';
import { farthestFrom, must, readSvgText, svgOf } from './helpers.ts';

const box = (inner: string, attributes?: string) => readSvgText(svgOf(inner, attributes)).loops[0]!.box;
const rect = '<rect x="10" y="10" width="20" height="8"/>';

describe('units and the lower left corner', () => {
  test('Y is turned up, 0,0 is the lower left corner of the viewBox', () => {
    expect(box(rect)).toEqual({ minX: 10, minY: 32, maxX: 30, maxY: 40 });
    expect(box(rect, 'width="100mm" height="50mm" viewBox="5 -10 100 50"')).toEqual({
      minX: 5,
      minY: 22,
      maxX: 25,
      maxY: 30,
    });
  });

  test.each([
    ['100mm', 1],
    ['10cm', 1],
    ['400Q', 1],
    ['100in', 25.4],
    ['7200pt', 25.4],
    ['600pc', 25.4],
  ])('width %s over a viewBox of 100 is %s mm a unit', (width, scale) => {
    const drawing = readSvgText(svgOf(rect, `width="${width}" viewBox="0 0 100 50"`));
    expect(drawing.units).toMatchObject({ from: 'drawing', mmPerUnit: expect.closeTo(scale, 12) });
    expect(drawing.loops[0]!.box.maxX).toBeCloseTo(30 * scale, 9);
  });

  test("without a physical size the job's units apply, px too: CSS counts px among the visual, not the physical units", () => {
    for (const size of ['', 'width="100" height="50"', 'width="100px" height="50px"', 'width="100%" height="100%"']) {
      const drawing = readSvgText(svgOf(rect, `${size} viewBox="0 0 100 50"`), { units: 'inch' });
      expect(drawing.units).toEqual({ name: 'inch', mmPerUnit: 25.4, from: 'caller' });
      expect(drawing.loops[0]!.box.minX).toBeCloseTo(254, 9);
      expect(drawing.notes.map((n) => n.code)).toContain('no-units');
    }
  });

  test('a physical size without a viewBox: a user unit is 1/96 in (7.10), counted up from the bottom of the page', () => {
    const drawing = readSvgText(svgOf('<rect width="96" height="48"/>', 'width="2in" height="1in"'));
    expect(drawing.loops[0]!.box).toEqual({
      minX: 0,
      minY: expect.closeTo(12.7, 9),
      maxX: expect.closeTo(25.4, 9),
      maxY: expect.closeTo(25.4, 9),
    });
  });

  test('lengths with units inside the drawing are px at 96 to the inch', () => {
    expect(box('<rect width="1in" height="25.4mm"/>', 'viewBox="0 0 200 200"').maxX).toBeCloseTo(96, 9);
    expect(box('<rect width="50%" height="10%"/>', 'viewBox="0 0 200 100"')).toMatchObject({ maxX: 100, minY: 90 });
  });

  test('preserveAspectRatio (7.8): meet by default, slice and none when said', () => {
    const wide = (more: string) => box(rect, `width="400mm" height="100mm" viewBox="0 0 100 50" ${more}`);
    expect(wide('')).toMatchObject({ minX: 20, maxX: 60 });
    expect(wide('preserveAspectRatio="xMinYMax slice"')).toMatchObject({ minX: 40, maxX: 120 });
    expect(wide('preserveAspectRatio="none"')).toEqual({ minX: 40, minY: 64, maxX: 120, maxY: 80 });
  });
});

describe('shapes', () => {
  test('rect with round corners: four arcs, one radius standing for both (9.2), clamped to half a side', () => {
    const area = (attributes: string) =>
      loopArea(readSvgText(svgOf(`<rect x="1" y="2" width="20" height="10" ${attributes}/>`)).loops[0]!.loop);
    const rounded = 200 - (4 - Math.PI) * 9;
    expect(area('rx="3"')).toBeCloseTo(rounded, 9);
    expect(area('ry="3"')).toBeCloseTo(rounded, 9);
    expect(area('rx="3" ry="auto"')).toBeCloseTo(rounded, 9);
    // An ellipse, fitted: within the tolerance all round it.
    expect(area('rx="50" ry="5"')).toBeCloseTo(Math.PI * 50, 1);
    expect(area('rx="0"')).toBe(200);
  });

  test('circles stay circles under turns and even scales, and mirrors', () => {
    for (const t of ['rotate(33 4 5)', 'scale(-1 1)', 'translate(9,-3) scale(2)', 'matrix(0 1 -1 0 3 3)']) {
      const { circles } = readSvgText(svgOf(`<g transform="${t}"><circle cx="4" cy="5" r="2"/></g>`));
      expect(circles[0]!.circle!.diameter).toBeCloseTo(t.includes('scale(2)') ? 8 : 4, 9);
    }
  });

  test('a mirrored path keeps its arcs on the right side', () => {
    const d = 'M10 10 h10 a5 5 0 0 1 0 10 h-10 z';
    const plain = readSvgText(svgOf(`<path d="${d}"/>`)).loops[0]!;
    const turned = readSvgText(svgOf(`<path transform="translate(40 0) scale(-1 1)" d="${d}"/>`)).loops[0]!;
    expect(loopArea(plain.loop)).toBeCloseTo(100 + 12.5 * Math.PI, 9);
    expect(loopArea(turned.loop)).toBeCloseTo(100 + 12.5 * Math.PI, 9);
    expect(plain.box).toMatchObject({ minX: 10, maxX: 25 });
    expect(turned.box).toMatchObject({ minX: 15, maxX: 30 });
  });

  test('smooth curves, relative moves, several subpaths, H and V', () => {
    const a = readSvgText(
      svgOf('<path d="M0 0 C 2 4 6 4 8 0 S 14 -4 16 0 Q 18 3 20 0 T 24 0 V 20 H 0 Z m 4 4 h 4 v 4 h -4 z"/>'),
    );
    const b = readSvgText(
      svgOf(
        '<path d="M0 0 C 2 4 6 4 8 0 C 10 -4 14 -4 16 0 Q 18 3 20 0 Q 22 -3 24 0 L 24 20 L 0 20 L 0 0 M 4 4 L 8 4 L 8 8 L 4 8 L 4 4"/>',
      ),
    );
    expect(a.loops).toHaveLength(2);
    expect(a.loops.map((l) => l.loop)).toEqual(b.loops.map((l) => l.loop));
    expect(a.loops[1]!.depth).toBe(1);
  });

  test('groups, defs, use, symbol and inner svg', () => {
    const inner = `<defs><g id="pair"><circle id="c" cx="5" cy="5" r="1"/></g><symbol id="s" viewBox="0 0 10 10"><circle cx="5" cy="5" r="2"/></symbol></defs>
      <use href="#pair" x="10"/><use xmlns:xlink="http://www.w3.org/1999/xlink" xlink:href="#pair" x="20" transform="translate(0 10)"/>
      <use href="#s" x="40" y="0" width="20" height="20"/><svg x="70" y="10" width="20" height="10" viewBox="0 0 10 10"><circle cx="5" cy="5" r="1.5"/></svg>`;
    const circles = readSvgText(svgOf(inner))
      .circles.map((c) => c.circle!)
      .sort((p, q) => p.centre.x - q.centre.x);
    expect(circles).toEqual([
      { centre: { x: 15, y: 45 }, diameter: 2 },
      { centre: { x: 25, y: 35 }, diameter: 2 },
      { centre: { x: 50, y: 40 }, diameter: 8 },
      { centre: { x: 80, y: 35 }, diameter: 3 },
    ]);
  });

  test('what is not shown is not cut; text is counted', () => {
    const d = readSvgText(
      svgOf(
        `${rect}<g display="none">${rect}</g><rect style="fill:red;visibility:hidden" width="4" height="4"/><text>5 H7</text><image/><clipPath>${rect}</clipPath>`,
      ),
    );
    expect(d.loops).toHaveLength(1);
    expect(d.ignored).toEqual({ text: 1 });
    expect(d.unknown).toEqual({ image: 1 });
    expect(d.notes.find((n) => n.code === 'hidden')!.found).toContain('2 element(s)');
  });

  test('an id names an element or a group', () => {
    const drawing = readSvgText(
      svgOf(
        `<g id="lever">${rect}<circle id="bore" cx="15" cy="14" r="2"/></g><rect id="border" width="99" height="49"/>`,
      ),
    );
    expect(must(pickOutline(drawing, { id: 'lever' })).inner).toHaveLength(1);
    expect(must(pickOutline(drawing, { id: 'bore' })).outerLoop.circle).toMatchObject({ diameter: 4 });
  });
});

describe('arcs by appendix F.6', () => {
  /** F.6.4, the way back: centre, radii, turn and angles to end points and flags. */
  test('centre form to end points and back', () => {
    const rnd = random(SEED);
    for (let i = 0; i < runs(5000); i++) {
      const [rx, ry] = [0.5 + 20 * rnd(), 0.5 + 20 * rnd()];
      const turn = 360 * rnd() - 180;
      const phi = (turn * Math.PI) / 180;
      const centre = { x: 100 * rnd() - 50, y: 100 * rnd() - 50 };
      const u = { x: rx * Math.cos(phi), y: rx * Math.sin(phi) };
      const v = { x: -ry * Math.sin(phi), y: ry * Math.cos(phi) };
      const start = 2 * Math.PI * rnd() - Math.PI;
      const sweep = (0.05 + 6.1 * rnd()) * (rnd() < 0.5 ? -1 : 1);
      if (Math.abs(Math.abs(sweep) - Math.PI) < 1e-3) continue;
      const [from, to] = [ellipsePoint(centre, u, v, start), ellipsePoint(centre, u, v, start + sweep)];
      const back = svgArc(from, rx, ry, turn, Math.abs(sweep) > Math.PI, sweep > 0, to) as EllipticArc;
      expect(back.kind).toBe('elliptic');
      expect(Math.hypot(back.centre.x - centre.x, back.centre.y - centre.y)).toBeLessThan(1e-8);
      expect(Math.abs(back.sweep - sweep)).toBeLessThan(1e-8);
      const middle = ellipsePoint(centre, u, v, start + sweep / 2);
      const mine = ellipsePoint(back.centre, back.u, back.v, back.start + back.sweep / 2);
      expect(Math.hypot(middle.x - mine.x, middle.y - mine.y)).toBeLessThan(1e-8);
    }
  });

  test('F.6.2 and F.6.6: equal ends draw nothing, a zero radius a line, radii too small grow, signs are dropped', () => {
    const p = { x: 0, y: 0 };
    const q = { x: 10, y: 0 };
    expect(svgArc(p, 5, 5, 0, false, true, p)).toBeNull();
    expect(svgArc(p, 0, 5, 0, false, true, q)).toMatchObject({ kind: 'straight' });
    expect(svgArc(p, 2, 2, 0, false, true, q)).toMatchObject({
      centre: { x: 5, y: expect.closeTo(0, 12) },
      sweep: Math.PI,
    });
    const small = svgArc(p, -8, 8, 0, false, true, q) as EllipticArc;
    expect(Math.hypot(small.u.x, small.u.y)).toBeCloseTo(8, 12);
    expect(small.sweep).toBeLessThan(Math.PI);
    const large = svgArc(p, 8, 8, 0, true, false, q) as EllipticArc;
    expect(large.sweep).toBeLessThan(-Math.PI);
  });

  test('the example of section 8.3.8: a disc with a quarter cut out, and the quarter', () => {
    const drawing = readSvgText(
      svgOf(
        '<path d="M300,200 h-150 a150,150 0 1,0 150,-150 z"/><path d="M275,175 v-150 a150,150 0 0,0 -150,150 z"/>',
        'viewBox="0 0 1200 400"',
      ),
    );
    const [disc, quarter] = drawing.loops;
    expect(loopArea(disc!.loop)).toBeCloseTo((Math.PI * 150 * 150 * 3) / 4, 6);
    expect(loopArea(quarter!.loop)).toBeCloseTo((Math.PI * 150 * 150) / 4, 6);
    expect(
      farthestFrom(disc!.loop, [
        { x: 450, y: 200 },
        { x: 300, y: 350 },
        { x: 300, y: 50 },
      ]),
    ).toBeLessThan(1e-9);
  });
});
