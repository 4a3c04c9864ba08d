/** A job to start from, out of a drawing. */
import { bad, good, note, type Outcome, type Problem } from '../../base/problem.ts';
import { short } from '../../base/text.ts';
import { MM_PER_INCH } from '../../base/units.ts';
import { bulgeOf } from '../../geometry/measure/segment.ts';
import type { Loop, Point } from '../../geometry/types.ts';
import type { Drawing, DrawingLoop } from './drawing.ts';
import { type Pick, pickOutline } from './pick.ts';
import { type Role, sortDrawing } from './sort.ts';

export type DraftVertex = readonly [number, number] | readonly [number, number, number];

export type DraftOutline =
  | { readonly vertices: readonly DraftVertex[] }
  | { readonly circle: { readonly at: readonly [number, number]; readonly diameter: number } };

/** A job file (design 4.2) with what a drawing can tell. */
export interface JobDraft {
  readonly name: string;
  readonly units: 'mm' | 'inch';
  readonly material: string;
  readonly part: {
    readonly thickness: number;
    readonly outline: DraftOutline;
    readonly holes?: readonly { readonly at: readonly [number, number]; readonly drill: number }[];
    readonly pockets?: readonly { readonly outline: DraftOutline; readonly through: true }[];
  };
}

export interface DraftOptions extends Pick {
  readonly roles?: Readonly<Record<string, Role>>;
  /** A drawing tells neither; the job says so in its notes when they are left out. */
  readonly material?: string;
  readonly thickness?: number;
}

/** Free-cutting brass of 3 mm: the mildest thing to start from, to be replaced. */
const UNTOLD = { material: 'CuZn39Pb3', thicknessMm: 3 };

/**
 * A job with the drawing's outline as vertices, its circles drilled at their measured diameter and its openings cut through.
 * Everything the drawing does not say is a note: thickness and material, what each hole and opening is for.
 * Faults are those of `pickOutline`.
 */
export function jobFromDrawing(drawing: Drawing, name: string, options: DraftOptions = {}): Outcome<JobDraft> {
  const sorted = sortDrawing(drawing, options.roles ?? {});
  const only = sorted.parts.length === 1 ? sorted.parts[0] : undefined;
  const picked = pickOutline(
    onlyParts(
      drawing,
      sorted.parts.map((p) => p.outer),
      only !== undefined && options.layer === undefined && options.id === undefined,
    ),
    options,
  );
  if (!picked.ok) return bad(...picked.problems);
  const part = sorted.parts.find((p) => p.outer === picked.value.outerLoop);
  const holes = part?.holes ?? [];
  const openings = part?.openings ?? [];
  const units = drawing.units.name === 'inch' || drawing.units.name === 'in' ? 'inch' : 'mm';
  // A millionth of a unit is a hundredth of the finest digit in a program; what stands behind it is rounding.
  const say = (mm: number): number => Number((units === 'inch' ? mm / MM_PER_INCH : mm).toFixed(6)) + 0;
  const draft: JobDraft = {
    name,
    units,
    material: options.material ?? UNTOLD.material,
    part: {
      thickness: options.thickness ?? say(UNTOLD.thicknessMm),
      outline: outlineOf(picked.value.outerLoop, say),
      ...(holes.length === 0
        ? {}
        : { holes: holes.map((h) => ({ at: pair(h.circle!.centre, say), drill: say(h.circle!.diameter) })) }),
      ...(openings.length === 0
        ? {}
        : { pockets: openings.map((o) => ({ outline: outlineOf(o, say), through: true as const })) }),
    },
  };
  const questions = sorted.holeGroups
    .filter((g) => g.loops.some((l) => holes.includes(l)))
    .map((g) => ask(g.question, g.at[0]!));
  return good(draft, [...picked.problems, ...untold(options), ...questions, ...openings.map(askOpening)]);
}

/** Circles inside another layer's outline must not stand beside it as outlines of their own when nothing was named. */
function onlyParts(drawing: Drawing, outers: readonly DrawingLoop[], narrow: boolean): Drawing {
  return narrow ? { ...drawing, loops: outers } : drawing;
}

function outlineOf(l: DrawingLoop, say: (mm: number) => number): DraftOutline {
  if (l.circle !== null) return { circle: { at: pair(l.circle.centre, say), diameter: say(l.circle.diameter) } };
  return { vertices: verticesOf(l.loop, say) };
}

/** Corners of a loop with their bulges. */
function verticesOf(loop: Loop, say: (mm: number) => number): DraftVertex[] {
  return loop.map((s): DraftVertex => {
    const at = pair(s.a, say);
    return s.kind === 'line' ? at : [...at, Number(bulgeOf(s).toPrecision(12))];
  });
}

function pair(p: Point, say: (mm: number) => number): readonly [number, number] {
  return [say(p.x), say(p.y)];
}

function untold(options: DraftOptions): Problem[] {
  const problems: Problem[] = [];
  if (options.material === undefined)
    problems.push(
      note({
        code: 'assumed',
        found: `a drawing names no material: ${UNTOLD.material} is put down`,
        remedy: 'write the right one into the job',
      }),
    );
  if (options.thickness === undefined)
    problems.push(
      note({
        code: 'assumed',
        found: `a drawing names no thickness: ${UNTOLD.thicknessMm} mm is put down`,
        remedy: 'write the right one into the job',
      }),
    );
  return problems;
}

function ask(question: string, at: Point): Problem {
  return note({
    code: 'which-hole',
    at: { at: [at.x, at.y] },
    found: question,
    remedy: 'put down as drilled at the measured size; change it in the job',
  });
}

function askOpening(l: DrawingLoop): Problem {
  const { box } = l;
  const size = `${short(box.maxX - box.minX)} x ${short(box.maxY - box.minY)} mm`;
  return note({
    code: 'which-opening',
    at: { line: l.sources[0]!.line, at: [box.minX, box.minY] },
    found: `an opening of ${size}: cut through, or to a depth?`,
    remedy: 'put down as a pocket cut through; change it in the job',
  });
}
