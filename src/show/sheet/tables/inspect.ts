/** What to measure on the finished part, with limits: general tolerances of ISO 2768-1 m unless a fit gives its own. */
import { short } from '../../../base/text.ts';
import type { Mm } from '../../../base/units.ts';
import { loopBox } from '../../../geometry/measure/loop.ts';
import { dist } from '../../../geometry/measure/point.ts';
import type { Part } from '../../../part/part.ts';
import { generalTolerance } from '../../../trade/fits.ts';
import { para, table } from '../../markup/html.ts';
import type { Units } from '../figures.ts';
import type { SheetInput } from '../input.ts';

interface Check {
  readonly what: string;
  readonly nominal: Mm;
  readonly how: string;
  /** Own limits; otherwise the general tolerance. */
  readonly limits?: { readonly least: Mm; readonly most: Mm };
}

export function inspection(input: SheetInput, u: Units): string {
  const rows = checksOf(input.job.part).map((c) => {
    const t = generalTolerance(c.nominal, CLASS);
    const limits = c.limits ?? (t === undefined ? null : { least: c.nominal - t, most: c.nominal + t });
    const basis = c.limits ? 'its fit' : t === undefined ? 'none given' : `± ${u.size(t)}`;
    return [
      c.what,
      u.size(c.nominal),
      limits === null ? '' : u.coord(limits.least),
      limits === null ? '' : u.coord(limits.most),
      basis,
      c.how,
      '<span class="blank"></span>',
    ];
  });
  return (
    table(['what', `#nominal, ${u.name}`, '#least', '#most', 'from', 'with', 'found'], rows) +
    para(
      'Lengths without a fit: general tolerance ISO 2768-1 medium, unless your drawing says otherwise. Thickness is that of the stock and is not cut unless the face is milled.',
    )
  );
}

/** The class of ISO 2768-1 for what a drawing leaves untoleranced (common practice in general engineering). */
const CLASS = 'm';

/** Centres and overall sizes first, then edges, then holes. */
function checksOf(part: Part): Check[] {
  return [...overall(part), ...edges(part), ...centres(part), ...fitted(part), ...pockets(part), ...fromEdge(part)];
}

function fromEdge(part: Part): Check[] {
  return part.edgeHoles.flatMap((h) => [
    {
      what: `edge hole ${h.index + 1}, from the upper face to its middle`,
      nominal: part.thickness / 2,
      how: 'height gauge on a pin',
    },
    { what: `edge hole ${h.index + 1}, depth from the crown`, nominal: h.depth, how: 'depth gauge or pin' },
  ]);
}

function overall(part: Part): Check[] {
  const box = loopBox(part.outline.loop);
  return [
    { what: 'length along the part’s X', nominal: box.maxX - box.minX, how: 'calliper' },
    { what: 'width along the part’s Y', nominal: box.maxY - box.minY, how: 'calliper' },
    { what: 'thickness', nominal: part.thickness, how: 'micrometer' },
  ];
}

/** Bosses that turn through half a circle or more can be measured across; the rest by radius gauge. */
function edges(part: Part): Check[] {
  const { source, loop } = part.outline;
  if (source.kind === 'bosses') {
    return source.bosses.map((b, i) => {
      const turned = loop.reduce(
        (sum, s) => (s.kind === 'arc' && s.sweep > 0 && dist(s.centre, b.at) < 1e-6 ? sum + s.sweep : sum),
        0,
      );
      return turned >= Math.PI - 1e-9
        ? { what: `boss ${i + 1}, across`, nominal: 2 * b.radius, how: 'micrometer' }
        : { what: `boss ${i + 1}, radius`, nominal: b.radius, how: 'radius gauge' };
    });
  }
  if (source.kind === 'circle') return [{ what: 'outside diameter', nominal: source.diameter, how: 'micrometer' }];
  if (source.kind === 'slot') return [{ what: 'width between flats', nominal: source.width, how: 'micrometer' }];
  const radii = [...new Set(loop.flatMap((s) => (s.kind === 'arc' ? [short(s.radius, 3)] : [])))];
  return radii.slice(0, MOST_RADII).map((r) => ({ what: `radius ${r} mm`, nominal: Number(r), how: 'radius gauge' }));
}

/** A drawn outline of many small arcs (a fitted curve) is compared with a template, not arc by arc. */
const MOST_RADII = 8;

/** From the first hole to every other: how a pitch is measured over pins. */
function centres(part: Part): Check[] {
  const [first, ...rest] = part.holes;
  if (first === undefined) return [];
  return rest.map((h) => ({
    what: `hole ${first.index + 1} to hole ${h.index + 1}`,
    nominal: dist(first.at, h.at),
    how: 'calliper over pins',
  }));
}

function fitted(part: Part): Check[] {
  return part.holes.flatMap((h): Check[] => {
    const { make } = h;
    if (h.limits === null) return [{ what: `hole ${h.index + 1}`, nominal: h.diameter, how: 'pin or calliper' }];
    if (make.kind === 'tap') {
      return [
        { what: `hole ${h.index + 1}, before tapping`, nominal: h.diameter, how: 'plain plug', limits: h.limits },
      ];
    }
    const nominal = make.kind === 'ream' || make.kind === 'bore' ? make.nominal : h.diameter;
    return [{ what: `hole ${h.index + 1}`, nominal, how: 'plug gauge or pins', limits: h.limits }];
  });
}

function pockets(part: Part): Check[] {
  return part.pockets.flatMap((p): Check[] =>
    p.depth === null ? [] : [{ what: `pocket ${p.index + 1}, depth`, nominal: p.depth, how: 'depth gauge' }],
  );
}
