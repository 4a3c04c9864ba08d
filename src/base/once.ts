/** One fault of a program often shows at many places. A person is told it once, with how many more there are and where the next is. */
import type { Place, Problem } from './problem.ts';

/** Problems that differ in place and figures only, told as one; the order is that of the first of each. */
export function toldOnce<T extends Problem>(problems: readonly T[]): T[] {
  const groups = new Map<string, T[]>();
  for (const p of problems) {
    const key = [p.severity, p.code, p.place.file, p.place.path, bare(p.found), bare(p.wanted), p.remedy].join('\n');
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [p]);
    else group.push(p);
  }
  return [...groups.values()].map((group) => ({ ...group[0]!, found: group[0]!.found + more(group) }));
}

/** Words without their figures. */
function bare(words: string): string {
  return words.replace(/-?\d+(\.\d+)?/g, '#');
}

function more([first, ...rest]: readonly Problem[]): string {
  if (rest.length === 0) return '';
  const next = rest.find((p) => p.place.line !== first!.place.line) ?? rest[0]!;
  const same = next.place.line !== undefined && next.place.line === first!.place.line;
  return ` (and ${rest.length} more, ${same ? 'all on this line' : `the next ${placed(next.place)}`})`;
}

function placed({ line, at }: Place): string {
  if (line !== undefined) return `at line ${line}`;
  return at === undefined ? 'without a line' : `at ${at.map((v) => Number(v.toFixed(3))).join(', ')}`;
}
