import { nearest } from '../../../base/text.ts';
import { MM_PER_INCH } from '../../../base/units.ts';
import type { Affine } from '../curve/affine.ts';
import type { DrawingOptions, DrawingUnits } from '../drawing.ts';
import type { RawDrawing } from '../dxf/read.ts';
import type { DrawingFindings } from '../findings.ts';
import { quoted } from '../number.ts';
import { SvgAttributes } from './attributes.ts';
import {
  type Fit,
  type Length,
  MM_PER_UNIT,
  PX_PER_INCH,
  parseFit,
  parseLength,
  parseViewBox,
  type ViewBox,
} from './values.ts';
import { Walker } from './walk.ts';
import { type Element, parseXml } from './xml.ts';

/**
 * SVG text to shapes in user units. In millimetres Y runs up and 0,0 is the lower left corner of the viewBox (without one,
 * of the page), unless the drawing marks the part's own zero.
 */
export function readSvg(
  text: string,
  options: DrawingOptions,
  findings: DrawingFindings,
): RawDrawing & { readonly toMm: Affine } {
  const root = parseXml(text, findings);
  if (root === null || root.name !== 'svg') {
    if (root !== null)
      findings.fault({
        code: 'not-svg',
        at: { line: root.line, column: root.column },
        found: `the outermost element is <${root.name.replace('other:', '')}>`,
        wanted: '<svg>',
        remedy: 'check that this is the right file',
      });
    return nothing(options);
  }
  const frame = frameOf(root, options, findings);
  const walker = new Walker(root, findings, options.id);
  walker.walkChildren(root, frame.box);
  if (walker.hidden > 0)
    findings.note({ code: 'hidden', at: {}, found: `${walker.hidden} element(s) are not displayed and left out` });
  if (options.id !== undefined && walker.placed.length === 0 && findings.faults.length === 0)
    unknownId(options.id, walker.ids, findings);
  const { kx, ky, units } = frame;
  const zero = walker.zero ?? frame.corner;
  if (walker.zero !== null)
    findings.note({
      code: 'part-zero',
      at: {},
      found: 'the drawing marks the zero of the part: coordinates count from there',
    });
  const toMm = { a: kx, b: 0, c: 0, d: -ky, e: -kx * zero.x, f: ky * zero.y };
  return { placed: walker.placed, units, layers: [], toMm };
}

function nothing(options: DrawingOptions): RawDrawing & { readonly toMm: Affine } {
  return { placed: [], units: callers(options), layers: [], toMm: { a: 1, b: 0, c: 0, d: -1, e: 0, f: 0 } };
}

function callers(options: DrawingOptions): DrawingUnits {
  return { name: options.units, mmPerUnit: options.units === 'inch' ? MM_PER_INCH : 1, from: 'caller' };
}

interface SvgFrame {
  readonly units: DrawingUnits;
  /** Millimetres a user unit, across and up. */
  readonly kx: number;
  readonly ky: number;
  /** Lower left corner in user units. */
  readonly corner: { readonly x: number; readonly y: number };
  readonly box: ViewBox | null;
}

function frameOf(root: Element, options: DrawingOptions, findings: DrawingFindings): SvgFrame {
  const a = new SvgAttributes(root, null, findings);
  const [width, height] = [sizeOf(a, 'width'), sizeOf(a, 'height')];
  const box = boxOf(a);
  const fit = fitOf(a);
  const corner = cornerOf(box, height, findings);
  const [wMm, hMm] = [physical(width), physical(height)];
  if (wMm === null && hMm === null) {
    findings.note({
      code: 'no-units',
      at: { line: root.line },
      found: `the drawing states no physical size: one user unit is read as one ${options.units}`,
      remedy: 'check one measurement against the drawing',
    });
    const units = callers(options);
    return { units, kx: units.mmPerUnit, ky: units.mmPerUnit, corner, box };
  }
  const [kx, ky] = scales(wMm, hMm, box, fit);
  const unit = width !== null && wMm !== null ? width.unit : (height?.unit ?? '');
  return { units: { name: unit, mmPerUnit: kx, from: 'drawing' }, kx, ky, corner, box };
}

/** Without a viewBox a user unit is a px, 1/96 in. With one, its box is fitted to the page as preserveAspectRatio says. */
function scales(wMm: number | null, hMm: number | null, box: ViewBox | null, fit: Fit): [number, number] {
  if (box === null) return [MM_PER_INCH / PX_PER_INCH, MM_PER_INCH / PX_PER_INCH];
  const sx = wMm === null ? null : wMm / box.width;
  const sy = hMm === null ? null : hMm / box.height;
  // One size alone gives the other by the box's proportions.
  const [x, y] = [(sx ?? sy)!, (sy ?? sx)!];
  if (fit.align === null) return [x, y];
  const k = fit.slice ? Math.max(x, y) : Math.min(x, y);
  return [k, k];
}

function cornerOf(box: ViewBox | null, height: Length | null, findings: DrawingFindings): { x: number; y: number } {
  if (box !== null) return { x: box.x, y: box.y + box.height };
  const mm = physical(height);
  if (mm !== null) return { x: 0, y: (mm * PX_PER_INCH) / MM_PER_INCH };
  if (height !== null && height.unit !== '%') return { x: 0, y: height.number };
  findings.note({
    code: 'no-corner',
    at: {},
    found: 'the drawing has neither viewBox nor height: its upper left corner is taken as 0,0',
  });
  return { x: 0, y: 0 };
}

function physical(length: Length | null): number | null {
  const mm = length === null ? undefined : MM_PER_UNIT[length.unit];
  return mm === undefined ? null : length!.number * mm;
}

function sizeOf(a: SvgAttributes, name: 'width' | 'height'): Length | null {
  const text = a.text(name);
  if (text === undefined || text.trim() === 'auto') return null;
  const parsed = parseLength(text);
  if (parsed.ok && parsed.value.number > 0) return parsed.value;
  a.fail('bad-size', parsed.ok ? `${name}="${text}"` : `${name}: ${parsed.found}`, 'a width and height above zero');
  return null;
}

function boxOf(a: SvgAttributes): ViewBox | null {
  const text = a.text('viewBox');
  if (text === undefined) return null;
  const parsed = parseViewBox(text);
  if (parsed.ok) return parsed.value;
  a.fail('bad-viewbox', parsed.found, 'viewBox="x y width height"');
  return null;
}

function fitOf(a: SvgAttributes): Fit {
  const parsed = parseFit(a.text('preserveAspectRatio') ?? 'xMidYMid');
  if (parsed.ok) return parsed.value;
  a.fail('bad-viewbox', parsed.found, 'preserveAspectRatio of the published grammar');
  return { align: null, slice: false };
}

function unknownId(wanted: string, ids: ReadonlySet<string>, findings: DrawingFindings): void {
  const near = nearest(wanted, [...ids]);
  const list = ids.size === 0 ? 'no element with an outline has one' : [...ids].slice(0, 12).map(quoted).join(', ');
  findings.fault({
    code: 'unknown-id',
    at: {},
    found: `nothing is drawn under the id ${quoted(wanted)}`,
    wanted: `an id of an element with an outline; ids: ${list}`,
    remedy: near === undefined ? 'name one of these ids' : `did you mean ${quoted(near)}?`,
  });
}
