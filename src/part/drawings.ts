/** How an outline out of a drawing reaches the job: the file through `read`, the loops through the drawing reader. */
import { bad, fault, good, type Outcome, type Problem } from '../base/problem.ts';
import type { Loop } from '../geometry/types.ts';
import type { UnitName } from './desk.ts';
import { decode } from './drawing/decode.ts';
import type { DrawingFormat } from './drawing/drawing.ts';
import { pickOutline } from './drawing/pick.ts';
import { readDrawing } from './drawing/read.ts';
import { acceptText } from './schema/jsonc.ts';

/**
 * Supplies a file named by the job, as text or as its bytes (drawings are not always UTF-8). The command line reads it beside the job file, the page from what was
 * opened with it; both answer a fault when it is not there or not readable. Files are read, never run.
 */
export type ReadFile = (name: string) => Outcome<string | Uint8Array>;

/** The outer loop of a drawing with the loops directly inside it; millimetres. */
export interface PickedLoops {
  readonly outer: Loop;
  readonly inner: readonly Loop[];
}

/** `pick`: layer of a DXF, id in an SVG. */
export type DrawingLoops = (format: DrawingFormat, name: string, pick: string | undefined) => Outcome<PickedLoops>;

export function drawingLoops(read: ReadFile, units: UnitName): DrawingLoops {
  return (format, name, pick) => {
    const content = read(name);
    if (!content.ok) return content;
    const wanted = pick === undefined ? {} : format === 'dxf' ? { layer: pick } : { id: pick };
    // A frozen layer is read only when it is asked for by name, so the name goes to the reader as well.
    const drawing = readDrawing(content.value, { format, units, file: name, ...wanted });
    if (!drawing.ok) return drawing;
    const picked = pickOutline(drawing.value, wanted);
    return picked.ok ? good({ outer: picked.value.outer, inner: picked.value.inner }, picked.problems) : picked;
  };
}

/** A named machine or cutter file as accepted text. */
export function namedText(read: ReadFile, name: string): Outcome<string> {
  const content = read(name);
  if (!content.ok) return content;
  if (typeof content.value === 'string') return acceptText(content.value, name);
  const decoded = decode(content.value);
  return decoded.ok ? acceptText(decoded.text, name) : bad(notText(name, decoded.found));
}

function notText(file: string, found: string): Problem {
  return fault({
    code: 'file-not-text',
    at: { file },
    found,
    wanted: 'a text file in UTF-8',
    remedy: 'name the right file, or save it again as plain text',
  });
}
