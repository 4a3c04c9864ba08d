/** `tabwright hold JOB`: the ways of holding the part, side by side, then the reasons. */
import { fixed, short } from '../../base/text.ts';
import { compareJob, type WayScore } from '../../job.ts';
import { readerBeside, readText, shippedPost } from '../files.ts';
import { DONE, type ExitCode, result, tellProblems, WRONG_INPUT, withUnits } from '../say.ts';

export interface HoldOptions {
  readonly json?: boolean;
}

export function holdCommand(jobPath: string, options: HoldOptions): ExitCode {
  const text = readText(jobPath);
  if (!text.ok) return refuse(text.problems);
  const compared = compareJob({ text: text.value, file: jobPath, read: readerBeside(jobPath), post: shippedPost });
  if (!compared.ok) return refuse(compared.problems);
  tellProblems(compared.problems.filter((p) => p.code !== 'hold-weak'));
  const { job, scores } = compared.value;
  if (options.json) result(JSON.stringify({ name: job.name, ways: scores.map(entry) }, null, 1));
  else result([`${job.name}: ways of holding it`, '', ...table(scores), '', ...reasons(scores)].join('\n'));
  return DONE;
}

function refuse(problems: Parameters<typeof tellProblems>[0]): ExitCode {
  tellProblems(problems);
  return WRONG_INPUT;
}

const COLUMNS = [
  'way',
  'margin/wanted',
  'movement mm',
  'allowed',
  'cutter bends',
  'clean-up min',
  'machine min',
  'verdict',
];

function table(scores: readonly WayScore[]): string[] {
  const rows = [COLUMNS, ...scores.map(row)];
  const widths = COLUMNS.map((_, i) => Math.max(...rows.map((r) => r[i]!.length)));
  return rows.map((r) =>
    r
      .map((cell, i) => (i === 0 || i === r.length - 1 ? cell.padEnd(widths[i]!) : cell.padStart(widths[i]!)))
      .join('  ')
      .trimEnd(),
  );
}

function row(s: WayScore): string[] {
  if (!s.possible) return [s.name, '-', '-', '-', '-', '-', '-', s.verdict];
  return [
    s.name,
    `${fixed(s.margin.least, 2)}/${short(s.margin.wanted, 1)}`,
    fixed(s.movement.most, 3),
    fixed(s.movement.wanted, 3),
    fixed(s.cutterDeflection, 3),
    fixed(s.effortMinutes, 0),
    s.machineMinutes === null ? '-' : fixed(s.machineMinutes, 0),
    s.verdict,
  ];
}

function reasons(scores: readonly WayScore[]): string[] {
  return scores
    .filter((s) => s.reasons.length > 0)
    .flatMap((s) => [`${s.name}:`, ...s.reasons.map((r) => `  ${withUnits(r)}`)]);
}

function entry(s: WayScore): object {
  return {
    name: s.name,
    by: s.by,
    margin: s.margin,
    movement: s.movement,
    cutterDeflection: s.cutterDeflection,
    effort: s.effortMinutes,
    machine: s.machineMinutes,
    stops: s.stopMinutes,
    verdict: s.verdict,
    reasons: s.reasons,
    possible: s.possible,
  };
}
