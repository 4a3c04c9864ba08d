/** `tabwright check PROGRAM...`: the independent check on program files. */
import { toldOnce } from '../../base/once.ts';
import { fault, type Problem } from '../../base/problem.ts';
import { short } from '../../base/text.ts';
import type { Report } from '../../check/report.ts';
import { checkTexts, readJob, readMachineFile } from '../../job.ts';
import type { Job, Machine } from '../../part/part.ts';
import { readerBeside, readText } from '../files.ts';
import { DONE, type ExitCode, FAULTY_PROGRAM, result, tellProblems, WRONG_INPUT } from '../say.ts';

export interface CheckOptions {
  readonly job?: string;
  /** Machine file, when there is no job to state the machine. */
  readonly machine?: string;
  readonly json?: boolean;
}

export function checkCommand(paths: readonly string[], options: CheckOptions): ExitCode {
  const texts = paths.map((file) => ({ file, text: readText(file) }));
  const unread = texts.flatMap((t) => (t.text.ok ? [] : t.text.problems));
  if (unread.length > 0) return refuse(unread);
  const large = texts.filter((t) => t.text.ok && t.text.value.length > LARGEST_PROGRAM);
  if (large.length > 0) return refuse(large.map((t) => tooLarge(t.file, t.text.ok ? t.text.value.length : 0)));
  const others = texts.filter((t) => t.text.ok && !mayBeProgram(t.text.value)).map((t) => noProgram(t.file));
  if (others.length > 0) return refuse(others);
  const job = options.job === undefined ? null : jobAt(options.job);
  if (job && 'problems' in job) return refuse(job.problems);
  const programs = texts.map((t) => ({ file: t.file, text: t.text.ok ? t.text.value : '' }));
  const machine = options.machine === undefined ? null : machineAt(options.machine);
  if (machine && 'problems' in machine) return refuse(machine.problems);
  const report = checkTexts(programs, job, machine ? { machine } : {});
  if (options.json) result(JSON.stringify(report, null, 1));
  else tell(report);
  return report.faults.length > 0 ? FAULTY_PROGRAM : DONE;
}

/**
 * Characters of a program. Programs of this trade are under a hundredth of it; every block is kept while it is judged, so time and memory grow
 * with the text, and at this length the check needs half a gigabyte.
 */
const LARGEST_PROGRAM = 8 * 1024 * 1024;

function tooLarge(file: string, length: number): Problem {
  const found = `a program of ${(length / 1024 / 1024).toFixed(1)} MB`;
  const wanted = `at most ${LARGEST_PROGRAM / 1024 / 1024} MB`;
  return fault('file-too-large', found, wanted, 'check that it is the right file, or split the program', { file });
}

/** A job, a drawing or a page is no program with faults: it is the wrong file. Anything else is read and told as it reads. */
function mayBeProgram(text: string): boolean {
  return !/^\uFEFF?\s*([{[<#]|\/[/*]|0\r?\n\s*SECTION\b)/.test(text);
}

function noProgram(file: string): Problem {
  return fault(
    'not-a-program',
    'a job, a drawing or a page',
    'a program',
    'make a job with "tabwright make", read a drawing with "tabwright outline"',
    { file },
  );
}

function jobAt(path: string): Job | { readonly problems: readonly Problem[] } {
  const text = readText(path);
  if (!text.ok) return { problems: text.problems };
  const job = readJob(text.value, path, { read: readerBeside(path) });
  return job.ok ? job.value : { problems: job.problems };
}

function machineAt(path: string): Machine | { readonly problems: readonly Problem[] } {
  const text = readText(path);
  const machine = text.ok ? readMachineFile(text.value, path) : text;
  return machine.ok ? machine.value : { problems: machine.problems };
}

function refuse(problems: readonly Problem[]): ExitCode {
  tellProblems(problems);
  return WRONG_INPUT;
}

function tell(report: Report): void {
  tellProblems(toldOnce([...report.faults, ...report.cautions, ...report.notes]));
  const counts = `${report.faults.length} faults, ${report.cautions.length} cautions`;
  result(`${counts}; cutters ${report.cutters.join(', ') || 'none'}; about ${short(report.seconds / 60, 1)} min`);
  if (report.envelope) {
    const { min, max } = report.envelope;
    const axis = (i: number) => `${short(min[i]!)} to ${short(max[i]!)}`;
    result(`moves within X ${axis(0)}, Y ${axis(1)}, Z ${axis(2)} mm`);
  }
  for (const p of report.proven)
    result(`proven: ${p.what}${p.within === null ? '' : ` within ${short(p.within)} mm`}: ${p.says}`);
  for (const n of report.notProven) result(`not proven: ${n.what}: ${n.why}`);
}
