/**
 * The one shape of everything that is told to a person about an input or a program.
 * A problem is a value: it is returned, never thrown, and never silenced.
 */

/** fault: stops. caution: is told, recorded, does not stop. note: information. */
export type Severity = 'fault' | 'caution' | 'note';

/** Where the problem is. Lines and columns count from 1; `path` is the key path in a job file, e.g. `part.holes[2].ream`. */
export interface Place {
  readonly file?: string;
  readonly line?: number;
  readonly column?: number;
  readonly path?: string;
  /** A place on the work, millimetres, in the axes named by the text of the problem. */
  readonly at?: readonly [number, number] | readonly [number, number, number];
}

export interface Problem {
  readonly severity: Severity;
  /** Short, stable, kebab-case: `unknown-key`, `hole-outside`, `rapid-in-stock`. RS-274 conditions are `rs274-<number>`. */
  readonly code: string;
  readonly place: Place;
  /** What was found, as a sentence without a full stop. */
  readonly found: string;
  /** What was wanted. */
  readonly wanted: string;
  /** What to do about it. */
  readonly remedy: string;
}

/** A result that is either a value (perhaps with cautions and notes) or a list with at least one fault. */
export type Outcome<T> =
  | { readonly ok: true; readonly value: T; readonly problems: readonly Problem[] }
  | { readonly ok: false; readonly problems: readonly Problem[] };

export function good<T>(value: T, problems: readonly Problem[] = []): Outcome<T> {
  return { ok: true, value, problems };
}

export function bad(...problems: readonly Problem[]): { readonly ok: false; readonly problems: readonly Problem[] } {
  return { ok: false, problems };
}

/** What a problem is made of. `at` may be in the terms of who finds it, as a key path, where that one turns it into a place. */
export interface ProblemParts<At = Place> {
  readonly code: string;
  readonly at?: At;
  readonly found: string;
  readonly wanted: string;
  readonly remedy: string;
}

/** Information need not ask for anything. */
export type NoteParts<At = Place> = Omit<ProblemParts<At>, 'wanted' | 'remedy'> &
  Partial<Pick<ProblemParts, 'wanted' | 'remedy'>>;

export function fault(parts: ProblemParts): Problem {
  return problem('fault', parts);
}

export function caution(parts: ProblemParts): Problem {
  return problem('caution', parts);
}

export function note(parts: NoteParts): Problem {
  return problem('note', parts);
}

export function problem(severity: Severity, parts: NoteParts): Problem {
  const { code, at: place = {}, found, wanted = '', remedy = '' } = parts;
  return { severity, code, place, found, wanted, remedy };
}

/**
 * `file:line:column code path (which): found; wanted; remedy` on one line. Keys count from 0, as JSON does, and words from 1, as
 * people do; so what a key path counts is named beside it: `part.holes[2].ream (hole 3)`.
 */
export function describeProblem(p: Problem): string {
  const { file, line, column, at } = p.place;
  const which = named(p.place.path ?? '');
  const path = which === '' ? p.place.path : `${p.place.path} (${which})`;
  const where = [file, line, column].filter((x) => x !== undefined).join(':');
  const spot = at ? `at ${at.map((v) => Number(v.toFixed(3))).join(', ')}` : '';
  const head = [where, p.code, path, spot].filter((x) => x !== undefined && x !== '').join(' ');
  const body = [p.found, p.wanted, p.remedy].filter((x) => x !== '').join('; ');
  return `${head}: ${body}`;
}

/** Lists of a job file whose entries words name by number. Cutters are not among them: they carry numbers of their own. */
const NAMES: Readonly<Record<string, string>> = {
  holes: 'hole',
  edgeHoles: 'edge hole',
  pockets: 'pocket',
  islands: 'island',
  bosses: 'boss',
  webs: 'web',
  place: 'part',
  clamps: 'clamp',
};

/** `part.pockets[1].islands[0].circle` is `pocket 2, island 1`. */
function named(path: string): string {
  return [...path.matchAll(/(\w+)\[(\d+)\]/g)]
    .flatMap(([, list, index]) => (NAMES[list!] === undefined ? [] : [`${NAMES[list!]} ${Number(index) + 1}`]))
    .join(', ');
}
