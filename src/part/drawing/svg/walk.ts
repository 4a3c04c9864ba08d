/** Walks the tree of elements: groups, transforms, nested viewports and `use`, down to shapes with their matrix. */
import type { Point } from '../../../geometry/types.ts';
import { type Affine, compose, IDENTITY, movePoint, scaling, translation } from '../curve/affine.ts';
import { mapCurve } from '../curve/curve.ts';
import type { Placed } from '../dxf/expand.ts';
import { count, type DrawingFindings } from '../findings.ts';
import { DEEPEST_NESTING, MOST_COPIES, MOST_PIECES } from '../limits.ts';
import { quoted } from '../number.ts';
import { SvgAttributes, type Viewport } from './attributes.ts';
import { SHAPE_READERS } from './shapes.ts';
import { parseTransform } from './transform.ts';
import { type Fit, parseFit, parseViewBox, type ViewBox } from './values.ts';
import type { Element } from './xml.ts';

/** An (empty) group with this id marks the part's 0,0; our own drawings carry it, so that a job keeps its numbers. */
const ZERO_ID = 'part-zero';

const GROUPS = new Set(['g', 'a']);
/** Never drawn where they stand. */
const UNDRAWN = new Set(
  'defs symbol title desc metadata style clipPath mask marker pattern linearGradient radialGradient filter script view cursor color-profile'.split(
    ' ',
  ),
);
const ANNOTATION = new Set(['text', 'tspan', 'textPath']);

interface ElementContext {
  readonly matrix: Affine;
  readonly viewport: Viewport | null;
  readonly ids: readonly string[];
  /** Ids followed by `use` on the way here. */
  readonly uses: readonly string[];
  readonly depth: number;
  readonly hidden: boolean;
}

export class Walker {
  readonly placed: Placed[] = [];
  readonly ids = new Set<string>();
  zero: Point | null = null;
  hidden = 0;
  private readonly findings: DrawingFindings;
  private readonly wanted: string | undefined;
  private readonly named = new Map<string, Element>();
  private pieces = 0;
  private copies = 0;

  constructor(root: Element, findings: DrawingFindings, wanted: string | undefined) {
    this.findings = findings;
    this.wanted = wanted;
    this.name(root);
  }

  walkChildren(element: Element, viewport: Viewport | null): void {
    const ids = own(element);
    this.each(element.children, { matrix: IDENTITY, viewport, ids, uses: [], depth: 0, hidden: false });
  }

  private name(element: Element): void {
    const id = element.attributes.get('id');
    // The first of equal ids is the one that counts.
    if (id !== undefined && !this.named.has(id)) this.named.set(id, element);
    for (const child of element.children) this.name(child);
  }

  private each(elements: readonly Element[], where: ElementContext): void {
    for (const element of elements) {
      if (this.findings.full) return;
      this.visit(element, where);
    }
  }

  private visit(element: Element, where: ElementContext): void {
    const { name } = element;
    if (UNDRAWN.has(name)) return;
    if (where.depth > DEEPEST_NESTING) return this.tooDeep(element);
    const hidden = isHidden(element, where.hidden);
    if (hidden === 'gone') {
      this.hidden++;
      return;
    }
    const a = new SvgAttributes(element, where.viewport, this.findings);
    const next: ElementContext = {
      ...where,
      matrix: compose(where.matrix, this.transform(a)),
      ids: [...own(element), ...where.ids],
      depth: where.depth + 1,
      hidden: hidden === 'hidden',
    };
    if (a.broken) return;
    if (element.attributes.get('id') === ZERO_ID) this.zero ??= movePoint(next.matrix, { x: 0, y: 0 });
    if (element.attributes.has('clip-path') || element.attributes.has('mask'))
      count(this.findings.unknown, 'clip-path or mask (outlines are read unclipped)');
    if (GROUPS.has(name)) this.each(element.children, next);
    else if (name === 'svg')
      this.nested(
        a,
        element,
        next,
        a.length('width', 'x', where.viewport?.width ?? NaN),
        a.length('height', 'y', where.viewport?.height ?? NaN),
      );
    else if (name === 'use') this.use(a, next);
    else if (name in SHAPE_READERS) this.shape(a, next);
    else count(ANNOTATION.has(name) ? this.findings.ignored : this.findings.unknown, name);
  }

  private transform(a: SvgAttributes): Affine {
    const text = a.text('transform');
    if (/(^|;)\s*transform\s*:/.test(a.text('style') ?? ''))
      count(this.findings.unknown, 'transform in a style (not applied)');
    if (text === undefined) return IDENTITY;
    const parsed = parseTransform(text);
    if (parsed.ok) return parsed.value;
    a.fail('bad-transform', parsed.found, 'transform functions of the published grammar');
    return IDENTITY;
  }

  private shape(a: SvgAttributes, where: ElementContext): void {
    if (where.hidden) {
      this.hidden++;
      return;
    }
    for (const id of where.ids) this.ids.add(id);
    if (this.wanted !== undefined && !where.ids.includes(this.wanted)) return;
    const shapes = SHAPE_READERS[a.element.name]!(a);
    if (a.broken) return;
    const source = { type: a.element.name, line: a.element.line, layer: '', ids: where.ids, blocks: where.uses };
    for (const s of shapes) {
      this.pieces += s.curves.length;
      if (this.pieces > MOST_PIECES)
        return a.fail(
          'too-many-pieces',
          `more than ${MOST_PIECES} lines, arcs and curves`,
          'the drawing of one small part',
        );
      this.placed.push({ shape: { ...s, curves: s.curves.map((c) => mapCurve(where.matrix, c)) }, source });
    }
  }

  /** A viewport inside the drawing: an inner svg element, or a symbol drawn by `use`. */
  private nested(a: SvgAttributes, element: Element, where: ElementContext, width: number, height: number): void {
    const text = element.attributes.get('viewBox');
    const placed = translation(
      element.name === 'svg' ? a.length('x', 'x') : 0,
      element.name === 'svg' ? a.length('y', 'y') : 0,
    );
    if (a.broken) return;
    if (text === undefined) {
      const viewport = Number.isFinite(width * height) ? { width, height } : where.viewport;
      return this.each(element.children, { ...where, matrix: compose(where.matrix, placed), viewport });
    }
    const box = parseViewBox(text);
    const fit = parseFit(element.attributes.get('preserveAspectRatio') ?? 'xMidYMid');
    if (!box.ok) return a.fail('bad-viewbox', box.found, 'viewBox="x y width height"');
    if (!fit.ok) return a.fail('bad-viewbox', fit.found, 'preserveAspectRatio of the published grammar');
    if (!Number.isFinite(width * height))
      return a.fail(
        'bad-viewbox',
        'a viewBox in a viewport of unknown size',
        'width and height on this element or around it',
      );
    const matrix = compose(where.matrix, compose(placed, viewBoxMatrix(box.value, fit.value, width, height)));
    this.each(element.children, { ...where, matrix, viewport: box.value });
  }

  private use(a: SvgAttributes, where: ElementContext): void {
    const href = a.text('href') ?? '';
    const target = href.startsWith('#') ? this.named.get(href.slice(1)) : undefined;
    if (target === undefined) {
      const outside = href !== '' && !href.startsWith('#');
      return a.fail(
        outside ? 'external-reference' : 'unknown-reference',
        `href ${quoted(href)}`,
        outside ? 'an element of this file; other files are never fetched' : 'the id of an element of this file',
      );
    }
    const id = href.slice(1);
    if (where.uses.includes(id))
      return a.fail('use-cycle', `${quoted(id)} uses itself`, 'elements that do not hold themselves');
    if (++this.copies > MOST_COPIES)
      return a.fail('too-many-copies', `more than ${MOST_COPIES} copies by use`, 'the drawing of one small part');
    const matrix = compose(where.matrix, translation(a.length('x', 'x'), a.length('y', 'y')));
    if (a.broken) return;
    const next = { ...where, matrix, uses: [...where.uses, id], depth: where.depth + 1 };
    if (target.name !== 'symbol') return this.visit(target, next);
    const t = new SvgAttributes(target, where.viewport, this.findings);
    const size = (name: 'width' | 'height', along: 'x' | 'y'): number =>
      a.text(name) === undefined ? t.length(name, along, where.viewport?.[name] ?? NaN) : a.length(name, along);
    this.nested(t, target, { ...next, ids: [...own(target), ...next.ids] }, size('width', 'x'), size('height', 'y'));
  }

  private tooDeep(element: Element): void {
    this.findings.fault({
      code: 'too-deep',
      at: { line: element.line, column: element.column },
      found: `elements within elements, more than ${DEEPEST_NESTING} deep`,
      wanted: 'groups nested less deep',
      remedy: 'ungroup the drawing',
    });
  }
}

/** SVG 1.1 section 7.8: a viewBox into a viewport of the given size with its corner at 0,0. */
function viewBoxMatrix(box: ViewBox, fit: Fit, width: number, height: number): Affine {
  let [sx, sy] = [width / box.width, height / box.height];
  if (fit.align !== null) sx = sy = fit.slice ? Math.max(sx, sy) : Math.min(sx, sy);
  const room = fit.align ?? { x: 0, y: 0 };
  const shift = translation((width - box.width * sx) * room.x, (height - box.height * sy) * room.y);
  return compose(shift, compose(scaling(sx, sy), translation(-box.x, -box.y)));
}

function own(element: Element): string[] {
  const id = element.attributes.get('id');
  return id === undefined ? [] : [id];
}

/** Properties looked for inside a style attribute. */
const STYLED = {
  display: /(?:^|;)\s*display\s*:\s*([a-z]+)/,
  visibility: /(?:^|;)\s*visibility\s*:\s*([a-z]+)/,
} as const;

/** `gone` with all it holds; `hidden` itself, though what it holds may be shown again. */
function isHidden(element: Element, inherited: boolean): 'gone' | 'hidden' | 'shown' {
  const style = element.attributes.get('style') ?? '';
  const get = (name: keyof typeof STYLED): string | undefined =>
    STYLED[name].exec(style)?.[1] ?? element.attributes.get(name);
  if (get('display') === 'none') return 'gone';
  const visibility = get('visibility');
  if (visibility === undefined || visibility === 'inherit') return inherited ? 'hidden' : 'shown';
  return visibility === 'visible' ? 'shown' : 'hidden';
}
