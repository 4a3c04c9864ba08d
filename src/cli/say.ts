/** Words to the person: results on stdout, everything else on stderr. */
import { describeProblem, type Problem } from '../base/problem.ts';

/** Exit codes of the command. */
export const DONE = 0;
export const FAULTY_PROGRAM = 1;
export const WRONG_INPUT = 2;
export type ExitCode = typeof DONE | typeof FAULTY_PROGRAM | typeof WRONG_INPUT;

/** At most this many problems are printed one by one; the rest are counted. */
const MOST_SHOWN = 40;

export function result(text: string): void {
  process.stdout.write(`${text}\n`);
}

export function aside(text: string): void {
  process.stderr.write(`${text}\n`);
}

export function tellProblems(problems: readonly Problem[]): void {
  const order = { fault: 0, caution: 1, note: 2 };
  // Wrong units explain most of what else is found.
  const rank = (p: Problem) => (p.code === 'units-doubtful' ? -1 : order[p.severity]);
  const sorted = firstOfEachLine(problems).sort((a, b) => rank(a) - rank(b));
  // Two stages may tell the same thing; once is enough.
  const lines = [...new Set(sorted.map((p) => `${paint(p.severity)} ${withUnits(describeProblem(p))}`))];
  for (const line of lines.slice(0, MOST_SHOWN)) aside(line);
  if (lines.length > MOST_SHOWN) aside(`... and ${lines.length - MOST_SHOWN} more`);
}

/** A place without its unit: `at 34.1, 20.3`, `at 22, 15, -2.703`. */
const BARE_PLACE = /\bat -?\d+(?:\.\d+)?(?:, -?\d+(?:\.\d+)?){1,2}(?![\d.]| mm| in\b)/g;

/** Places are told in millimetres whatever the units of the file: said beside each, since other lengths of the same line may be inches. */
export function withUnits(text: string): string {
  return text.replace(BARE_PLACE, '$& mm');
}

/** What a JSON reader says after its first fault on a line is mostly a consequence of that fault: one is told, the rest show when it is mended. */
function firstOfEachLine(problems: readonly Problem[]): Problem[] {
  const told = new Set<string>();
  return problems.filter(({ code, place }) => {
    if (!code.startsWith('json-')) return true;
    const line = `${place.file}:${place.line}`;
    const first = !told.has(line);
    told.add(line);
    return first;
  });
}

function paint(severity: Problem['severity']): string {
  const colour = process.stderr.isTTY && !process.env['NO_COLOR'] && !process.env['CI'];
  if (!colour || severity === 'note') return severity;
  return `\u001b[1m${severity}\u001b[22m`;
}

/** What is being done, on a terminal only, on one line that is wiped when the next thing is said. Anything over half a second gets one. */
export function progress(what: string | null): void {
  if (!process.stderr.isTTY || process.env.CI !== undefined) return;
  process.stderr.write(what === null ? '\r\u001b[K' : `\r\u001b[K${what} ...`);
}
