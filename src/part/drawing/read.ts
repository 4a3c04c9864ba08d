/** A drawing's text or bytes to what it holds. The one entrance for every format. */
import { bad, good, type Outcome, type ProblemParts } from '../../base/problem.ts';
import { CURVE_FIT, DRAWING_JOIN } from '../../base/tolerance.ts';
import { segmentLength } from '../../geometry/measure/segment.ts';
import { type Affine, scaling } from './curve/affine.ts';
import { decode } from './decode.ts';
import type { Drawing, DrawingOptions } from './drawing.ts';
import { type RawDrawing, readDxf } from './dxf/read.ts';
import { DrawingFindings } from './findings.ts';
import { tellCrossings } from './heal/crossings.ts';
import { joinRuns } from './heal/join.ts';
import { loopsOf, withInside } from './heal/loops.ts';
import { openChains } from './heal/open.ts';
import { withoutOverlaps } from './heal/overlaps.ts';
import { type Strand, strandOf } from './heal/strand.ts';
import { withoutTabMarks } from './heal/tab-marks.ts';
import { MOST_BYTES } from './limits.ts';
import { readSvg } from './svg/read.ts';

/** A drawing before healing: shapes in drawing units and the map to millimetres with Y up. */
interface Raw extends RawDrawing {
  readonly toMm: Affine;
}

/**
 * Reads ASCII DXF (R12 to current) or SVG 1.1/2. Faults (damaged text, unknown blocks, tilted entities, over-large files)
 * refuse the drawing; defects (gaps, crossings, junctions) do not, and are listed with a place each.
 */
export function readDrawing(input: string | Uint8Array, options: DrawingOptions): Outcome<Drawing> {
  const findings = new DrawingFindings(options.file);
  const refused = (parts: ProblemParts) => {
    findings.fault(parts);
    return bad(...findings.faults);
  };
  const refusal = tooLarge(input.length) ?? binary(input);
  if (refusal !== null) return refused(refusal);
  const decoded = typeof input === 'string' ? ({ ok: true, text: input, encoding: 'utf-8' } as const) : decode(input);
  if (!decoded.ok)
    return refused({
      code: 'not-text',
      found: decoded.found,
      wanted: `a ${options.format.toUpperCase()} text file`,
      remedy: 'export the drawing again',
    });
  const alien = notThisFormat(decoded.text, options);
  if (alien !== null) return refused(alien);
  if (decoded.encoding === 'latin-1')
    findings.note({
      code: 'encoding',
      found: 'the file is not UTF-8 and is read as Latin-1: names with accents may be misspelt',
    });
  const text = decoded.text.charCodeAt(0) === 0xfeff ? decoded.text.slice(1) : decoded.text;
  const raw = options.format === 'dxf' ? fromDxf(text, options, findings) : readSvg(text, options, findings);
  if (findings.faults.length > 0) return bad(...findings.faults);
  return heal(raw, options, findings);
}

function fromDxf(text: string, options: DrawingOptions, findings: DrawingFindings): Raw {
  const raw = readDxf(text, options, findings);
  return { ...raw, toMm: scaling(raw.units.mmPerUnit, raw.units.mmPerUnit) };
}

function heal(raw: Raw, options: DrawingOptions, findings: DrawingFindings): Outcome<Drawing> {
  const join = options.join ?? DRAWING_JOIN;
  const strands = raw.placed.flatMap((p) =>
    usable(strandOf(p, raw.toMm, options.fit ?? CURVE_FIT, findings), join, findings),
  );
  if (findings.faults.length > 0) return bad(...findings.faults);
  const runs = withoutOverlaps(withoutTabMarks(strands, join, findings), join, findings);
  if (findings.faults.length > 0) return bad(...findings.faults);
  const joined = joinRuns(runs, join, findings);
  const open = openChains(joined, join, findings);
  const closed = loopsOf(joined, findings);
  tellCrossings(closed, join, findings);
  const loops = withInside(closed, findings);
  findings.close();
  const drawing: Drawing = {
    format: options.format,
    units: raw.units,
    loops,
    circles: loops.filter((l) => l.circle !== null),
    open,
    layers: raw.layers,
    defects: findings.defects,
    ignored: sorted(findings.ignored),
    unknown: sorted(findings.unknown),
    notes: findings.notes,
  };
  return good(drawing, [...findings.defects, ...findings.notes]);
}

/** A strand no longer than the joining distance cannot be told from its own ends: it is merged to a point. */
function usable(strand: Strand | null, join: number, findings: DrawingFindings): Strand[] {
  if (strand === null) return [];
  const length = strand.segments.reduce((sum, s) => sum + segmentLength(s), 0);
  if (length > join) return [strand];
  const at = strand.segments[0]?.a;
  const place =
    at === undefined ? { line: strand.source.line } : { line: strand.source.line, at: [at.x, at.y] as const };
  findings.note({
    code: 'tiny-piece',
    at: place,
    found: `${strand.source.type} of length ${Number(length.toPrecision(3))} mm is left out: its neighbours are joined across it`,
  });
  return [];
}

function sorted(counts: ReadonlyMap<string, number>): Record<string, number> {
  return Object.fromEntries([...counts].sort(([p], [q]) => (p < q ? -1 : 1)));
}

function tooLarge(size: number): ProblemParts | null {
  if (size <= MOST_BYTES) return null;
  return {
    code: 'too-large',
    found: `the drawing has ${size} bytes`,
    wanted: `at most ${MOST_BYTES} (50 MB)`,
    remedy: 'export the outline of the part alone',
  };
}

/** First bytes of a binary DXF file, by the published format. */
const BINARY_DXF = 'AutoCAD Binary DXF';
/** First bytes of the drawing databases that are often renamed to .dxf: AC1 and four more of a version. */
const DATABASE = /^AC10[0-9]{2}/;

function binary(input: string | Uint8Array): ProblemParts | null {
  const head = typeof input === 'string' ? input.slice(0, 24) : String.fromCharCode(...input.subarray(0, 24));
  if (head.startsWith(BINARY_DXF))
    return {
      code: 'binary-dxf',
      at: { line: 1 },
      found: 'this is a binary DXF file',
      wanted: 'ASCII DXF',
      remedy: 'save it again as ASCII DXF',
    };
  if (DATABASE.test(head))
    return {
      code: 'not-dxf',
      at: { line: 1 },
      found: 'this is a drawing database, not a DXF file',
      wanted: 'ASCII DXF',
      remedy: 'export it as ASCII DXF',
    };
  return null;
}

function notThisFormat(text: string, options: DrawingOptions): ProblemParts | null {
  const start = text
    .slice(0, 2000)
    .replace(/^\ufeff/, '')
    .trimStart();
  if (start === '')
    return {
      code: 'empty',
      at: { line: 1 },
      found: 'the drawing is empty',
      wanted: `a ${options.format.toUpperCase()} drawing`,
      remedy: 'export it again',
    };
  if (options.format === 'dxf' && start.startsWith('<')) {
    return {
      code: 'not-dxf',
      at: { line: 1 },
      found: 'this is markup (HTML, SVG or XML), not DXF',
      wanted: 'ASCII DXF',
      remedy: start.includes('<svg') ? 'name it as an SVG drawing' : 'download or export the drawing again',
    };
  }
  if (options.format === 'svg' && /^<!doctype html|^<html/i.test(start))
    return {
      code: 'not-svg',
      at: { line: 1 },
      found: 'this is a web page, not an SVG drawing',
      wanted: 'SVG',
      remedy: 'download or export the drawing again',
    };
  if (options.format === 'svg' && !start.startsWith('<'))
    return {
      code: 'not-svg',
      at: { line: 1 },
      found: 'the text does not start with <',
      wanted: 'SVG',
      remedy: 'check that this is the right file',
    };
  return null;
}
