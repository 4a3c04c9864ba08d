/** `tabwright outline DRAWING|JOB`: what a drawing holds, or a job's outline as a drawing. */
import { existsSync } from 'node:fs';
import { basename, dirname, extname, resolve } from 'node:path';
import { bad, fault, type Outcome, type Problem } from '../../base/problem.ts';
import { short } from '../../base/text.ts';
import { toRad } from '../../base/units.ts';
import { loopArea, loopBox, loopLength } from '../../geometry/measure/loop.ts';
import { unplacePoint } from '../../geometry/measure/transform.ts';
import { type Drawing, jobFromDrawing, layoutOf, readDrawing, type SortedDrawing, sortDrawing } from '../../job.ts';
import type { Part } from '../../part/part.ts';
import type { DrawingContents } from '../../show/drawing/contents.ts';
import { outlineDxf } from '../../show/drawing/dxf.ts';
import { outlineSvg } from '../../show/drawing/svg.ts';
import { readBytes, readerBeside, readText, shippedPost, stemOf, writeAll } from '../files.ts';
import { aside, DONE, type ExitCode, result, tellProblems, WRONG_INPUT } from '../say.ts';

export interface OutlineOptions {
  readonly output?: string;
  readonly layer?: string;
  readonly id?: string;
  readonly units?: string;
  readonly json?: boolean;
}

export function outlineCommand(path: string, options: OutlineOptions): ExitCode {
  const ending = extname(path).toLowerCase();
  const done =
    ending === '.dxf' || ending === '.svg'
      ? fromDrawing(path, ending.slice(1) as 'dxf' | 'svg', options)
      : fromJob(path, options);
  if (!done.ok) {
    tellProblems(done.problems);
    return WRONG_INPUT;
  }
  tellProblems(done.problems);
  result(done.value);
  return DONE;
}

function fromJob(path: string, options: OutlineOptions): Outcome<string> {
  const text = readText(path);
  if (!text.ok) return text;
  const layout = layoutOf({ text: text.value, file: path, read: readerBeside(path), post: shippedPost });
  if (!layout.ok) return layout;
  const { job, tabs } = layout.value;
  const place = job.places[0]!;
  const contents: DrawingContents = {
    name: job.name,
    outlines: [job.part.outline.loop],
    openings: job.part.pockets.map((p) => p.outline.loop),
    holes: job.part.holes.map((h) => ({ at: h.at, diameter: h.diameter })),
    tabs: tabs.map((t) => ({
      at: unplacePoint(place, t.at),
      direction: place.mirror ? Math.PI - (toRad(t.directionDeg) - place.turn) : toRad(t.directionDeg) - place.turn,
      width: t.width,
    })),
  };
  const out = options.output ?? `${stemOf(path)}.svg`;
  const spared = options.output === undefined ? existing(out) : ownDrawing(path, job.part, out);
  if (spared !== null) return bad(spared);
  const written = writeDrawing(contents, out);
  return written.ok ? { ...written, problems: [] } : written;
}

/** A name that nobody gave must not cost anybody a file. */
function existing(out: string): Problem | null {
  if (!existsSync(out)) return null;
  return fault({
    code: 'file-exists',
    at: { file: out },
    found: 'a file of this name is there already',
    wanted: 'a new name',
    remedy: 'name one with -o',
  });
}

/** The drawing that the job itself is read from is never written over. */
function ownDrawing(jobPath: string, part: Part, out: string): Problem | null {
  const outlines = [part.outline, ...part.pockets.flatMap((p) => [p.outline, ...p.islands])];
  const read = outlines.flatMap(({ source }) => (source.kind === 'drawing' ? [source.file] : []));
  if (!read.some((file) => resolve(dirname(resolve(jobPath)), file) === resolve(out))) return null;
  return fault({
    code: 'file-exists',
    at: { file: out },
    found: 'the job is read from this drawing',
    wanted: 'another name',
    remedy: 'name another with -o',
  });
}

function writeDrawing(contents: DrawingContents, path: string): Outcome<string> {
  const ending = extname(path).toLowerCase();
  if (ending !== '.svg' && ending !== '.dxf') {
    return bad(
      fault({
        code: 'drawing-ending',
        at: { file: path },
        found: `the ending "${ending}"`,
        wanted: '.svg or .dxf',
        remedy: 'name the file so',
      }),
    );
  }
  const text = ending === '.svg' ? outlineSvg(contents) : outlineDxf(contents);
  const written = writeAll(dirname(resolve(path)), [{ name: basename(path), text }]);
  return written.ok ? { ok: true, value: path, problems: [] } : written;
}

function fromDrawing(path: string, format: 'dxf' | 'svg', options: OutlineOptions): Outcome<string> {
  const bytes = readBytes(path);
  if (!bytes.ok) return bytes;
  if (options.units !== undefined && options.units !== 'mm' && options.units !== 'inch') {
    return bad(
      fault({ code: 'units', found: `the units "${options.units}"`, wanted: 'mm or inch', remedy: 'use one of these' }),
    );
  }
  const read = readDrawing(bytes.value, { format, file: path, units: options.units === 'inch' ? 'inch' : 'mm' });
  if (!read.ok) return read;
  const drawing = read.value;
  const sorted = sortDrawing(drawing);
  const pick = {
    ...(options.layer === undefined ? {} : { layer: options.layer }),
    ...(options.id === undefined ? {} : { id: options.id }),
  };
  const job = jobFromDrawing(drawing, stemOf(path), pick);
  if (drawing.loops.length === 0 || !job.ok) {
    return bad(
      ...read.problems,
      ...drawing.defects,
      ...job.problems.map((p) => ({ ...p, place: { file: path, ...p.place } })),
    );
  }
  const lines = words(drawing, sorted);
  if (options.output !== undefined && extname(options.output).toLowerCase() === '.json') {
    const text = `${JSON.stringify(job.value, null, 1)}\n`;
    const written = writeAll(dirname(resolve(options.output)), [{ name: basename(options.output), text }]);
    if (!written.ok) return written;
    return {
      ok: true,
      value: [...lines, options.output].join('\n'),
      problems: [...read.problems, ...notToldYet(job.problems, read.problems, path)],
    };
  }
  if (options.output !== undefined) {
    const picture = writeDrawing(pictureOf(drawing, sorted, stemOf(path)), options.output);
    if (!picture.ok) return picture;
    aside(`picture: ${picture.value}`);
  }
  const value = options.json
    ? JSON.stringify({ found: lines, job: job.value }, null, 1)
    : [...lines, '', `a job to start from (save it as ${stemOf(path)}.json):`, JSON.stringify(job.value, null, 1)].join(
        '\n',
      );
  return { ok: true, value, problems: [...read.problems, ...notToldYet(job.problems, read.problems, path)] };
}

/** The draft tells again what the reader of the drawing told, by line and code; of the rest the file is named here. */
function notToldYet(later: readonly Problem[], told: readonly Problem[], file: string): Problem[] {
  const key = (p: Problem) => `${p.code} ${p.place.line}`;
  const known = new Set(told.filter((p) => p.place.line !== undefined).map(key));
  return later.filter((p) => !known.has(key(p))).map((p) => ({ ...p, place: { file, ...p.place } }));
}

function words(drawing: Drawing, sorted: SortedDrawing): string[] {
  const units = `drawn in ${drawing.units.name}`;
  const outlines = sorted.parts.map((p, i) => {
    const box = loopBox(p.outer.loop);
    const size = `${short(box.maxX - box.minX)} x ${short(box.maxY - box.minY)} mm`;
    const arcs = p.outer.loop.filter((s) => s.kind === 'arc').length;
    return `outline ${i + 1}${p.outer.layer === '' ? '' : ` on ${p.outer.layer}`}: ${size}, edge ${short(loopLength(p.outer.loop))} mm, area ${short(Math.abs(loopArea(p.outer.loop)))} mm2, ${p.outer.loop.length - arcs} lines and ${arcs} arcs, ${p.openings.length} openings, ${p.holes.length} round holes`;
  });
  const holes = sorted.holeGroups.map((g) => `${g.at.length} x dia ${short(g.diameter)} mm: ${g.question}`);
  const open = drawing.open.length === 0 ? [] : [`${drawing.open.length} open outlines left out`];
  const left = [...Object.entries(drawing.ignored), ...Object.entries(drawing.unknown)].map(
    ([type, n]) => `${n} ${type} left out`,
  );
  return [`${drawing.loops.length} closed outlines, ${units}`, ...outlines, ...holes, ...open, ...left];
}

function pictureOf(_drawing: Drawing, sorted: SortedDrawing, name: string): DrawingContents {
  return {
    name,
    outlines: sorted.parts.map((p) => p.outer.loop),
    openings: sorted.parts.flatMap((p) => p.openings.map((o) => o.loop)),
    holes: sorted.holeGroups.flatMap((g) => g.at.map((at) => ({ at, diameter: g.diameter }))),
  };
}
