/** What every step of the reading has at hand: places in the file, the list of problems, the list of defaults taken. */
import { type Place, type Problem, type ProblemParts, problem, type Severity } from '../base/problem.ts';
import { short } from '../base/text.ts';
import { MM_PER_INCH, type Mm } from '../base/units.ts';
import type { Point } from '../geometry/types.ts';
import type { KeyPath, Located } from './schema/jsonc.ts';

export type UnitName = 'mm' | 'inch';

export interface Desk {
  readonly units: UnitName;
  readonly problems: Problem[];
  readonly defaults: string[];
  readonly place: (path: KeyPath) => Place;
  readonly fault: Tell;
  readonly caution: Tell;
  /** A default taken, as a sentence. */
  readonly assume: (sentence: string) => void;
  /** A length in the units of the file, for messages. */
  readonly say: (length: Mm) => string;
  readonly sayPoint: (p: Point) => string;
}

/** `point`: the place on the work, part axes unless the text says otherwise. */
type Tell = (parts: ProblemParts<KeyPath> & { readonly at: KeyPath; readonly point?: Point }) => void;

export function desk(
  units: UnitName,
  from: Pick<Located, 'place'>,
  problems: Problem[] = [],
  defaults: string[] = [],
): Desk {
  const adder =
    (severity: Severity): Tell =>
    ({ at, point, ...words }) => {
      const place = from.place(at);
      problems.push(problem(severity, { ...words, at: point ? { ...place, at: [point.x, point.y] } : place }));
    };
  const say = (length: Mm): string => (units === 'mm' ? `${short(length)} mm` : `${short(length / MM_PER_INCH, 4)} in`);
  return {
    units,
    problems,
    defaults,
    place: from.place,
    fault: adder('fault'),
    caution: adder('caution'),
    assume: (sentence) => {
      defaults.push(sentence);
    },
    say,
    sayPoint: (p) => `${say(p.x)}, ${say(p.y)}`,
  };
}

/** The same desk for entries of another file: its own places and units, the same lists. */
export function deskFor(other: Desk, units: UnitName, from: Pick<Located, 'place'>): Desk {
  return desk(units, from, other.problems, other.defaults);
}

export function hasFault(problems: readonly Problem[]): boolean {
  return problems.some((p) => p.severity === 'fault');
}
