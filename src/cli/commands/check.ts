/** `tabwright check PROGRAM...`: the independent check on program files. */
import { toldOnce } from '../../base/once.ts';
import { fault, type Problem } from '../../base/problem.ts';
import { short } from '../../base/text.ts';
import type { Report } from '../../check/report.ts';
import { checkPieces, readJob, readMachineFile } from '../../job.ts';
import type { Job, Machine } from '../../part/part.ts';
import { readerBeside, readText } from '../files.ts';
import { notAProgram } from '../not-a-program.ts';
import { openPieces } from '../pieces.ts';
import { DONE, type ExitCode, FAULTY_PROGRAM, result, tellProblems, WRONG_INPUT } from '../say.ts';
import { diskShelves, NoRoom } from '../shelf.ts';

export interface CheckCallOptions {
  readonly job?: string;
  /** Machine file, when there is no job to state the machine. */
  readonly machine?: string;
  readonly json?: boolean;
}

export function checkCommand(paths: readonly string[], options: CheckCallOptions): ExitCode {
  const opened = paths.map((file) => ({ file, pieces: openPieces(file) }));
  const unread = opened.flatMap((t) => (t.pieces.ok ? [] : t.pieces.problems));
  if (unread.length > 0) return refuse(unread);
  const programs = opened.flatMap((t) => (t.pieces.ok ? { file: t.file, ...t.pieces.value } : []));
  const most = options.job === undefined ? LARGEST_ALONE : LARGEST_WITH_JOB;
  const large = programs.filter((p) => p.bytes > most * MEGA);
  if (large.length > 0) return refuse(large.map((p) => tooLarge(p.file, p.bytes, most)));
  const others = programs.flatMap((p) => notAProgram(p.start, p.file) ?? []);
  if (others.length > 0) return refuse(others);
  const job = options.job === undefined ? null : jobAt(options.job);
  if (job && 'problems' in job) return refuse(job.problems);
  const machine = options.machine === undefined ? null : machineAt(options.machine);
  if (machine && 'problems' in machine) return refuse(machine.problems);
  const report = reportOn(programs, job, machine);
  if ('problems' in report) return refuse(report.problems);
  if (options.json) result(JSON.stringify(report, null, 1));
  else tell(report);
  return report.faults.length > 0 ? FAULTY_PROGRAM : DONE;
}

type RefusedText = { readonly problems: readonly Problem[] };

function reportOn(
  programs: readonly { readonly file: string; readonly all: () => Iterable<string> }[],
  job: Job | null,
  machine: Machine | null,
): Report | RefusedText {
  const shelves = diskShelves();
  const sources = programs.map((p) => ({ file: p.file, pieces: p.all }));
  try {
    return checkPieces(sources, job, { shelf: shelves.next, ...(machine === null ? {} : { machine }) });
  } catch (error) {
    if (error instanceof NoRoom) return { problems: [error.problem] };
    throw error;
  } finally {
    shelves.done();
  }
}

const MEGA = 1024 * 1024;
/**
 * MB of a program, alone: read piece by piece, in memory that does not grow with it; the bound keeps a wrong file from being read for minutes.
 */
const LARGEST_ALONE = 512;
/**
 * MB of a program against a job: its strokes are gone over many times, some three seconds a MB, and their packed pages take ten times its
 * room on disk. Programs of this trade are under a hundredth of it.
 */
const LARGEST_WITH_JOB = 128;

function tooLarge(file: string, bytes: number, most: number): Problem {
  const found = `a program of ${(bytes / MEGA).toFixed(1)} MB`;
  return fault({
    code: 'file-too-large',
    at: { file },
    found,
    wanted: `at most ${most} MB`,
    remedy: 'check that it is the right file, or split the program',
  });
}

function jobAt(path: string): Job | RefusedText {
  const text = readText(path);
  if (!text.ok) return { problems: text.problems };
  const job = readJob(text.value, path, { read: readerBeside(path) });
  return job.ok ? job.value : { problems: job.problems };
}

function machineAt(path: string): Machine | RefusedText {
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
