/** `tabwright make JOB`: every stage, then the files, unless the check finds a fault. */
import { dirname, join, resolve } from 'node:path';
import { toldOnce } from '../../base/once.ts';
import type { Problem } from '../../base/problem.ts';
import { kebab, short } from '../../base/text.ts';
import type { Finding } from '../../check/report.ts';
import { type Made, makeJob, readMoves } from '../../job.ts';
import { planFile, refusedFile } from '../../show/plan-file.ts';
import { setupSheet } from '../../show/sheet/sheet.ts';
import { type OutputFile, readerBeside, readText, setAside, shippedPost, writeAll } from '../files.ts';
import { jobPage } from '../page.ts';
import { aside, DONE, type ExitCode, FAULTY_PROGRAM, progress, result, tellProblems, WRONG_INPUT } from '../say.ts';
import { compareReaders } from '../second-reader.ts';

export interface MakeOptions {
  readonly output?: string;
  readonly post?: string;
  readonly json?: boolean;
}

export function makeCommand(jobPath: string, options: MakeOptions): ExitCode {
  const text = readText(jobPath);
  if (!text.ok) return refuse(text.problems, options);
  const made = makeJob({
    text: text.value,
    file: jobPath,
    read: readerBeside(jobPath),
    post: shippedPost,
    say: progress,
    ...(options.post === undefined ? {} : { postName: options.post }),
  });
  progress(null);
  if (!made.ok) return refuse(made.problems, options);
  const stem = kebab(made.value.job.name);
  const folder = options.output ?? join(dirname(resolve(jobPath)), stem);
  tellProblems([...made.problems, ...made.value.report.cautions]);
  const second = made.value.programs.flatMap((p, program) =>
    compareReaders(p.text, p.file).map((f): Finding => ({ ...f, program, block: f.place.line ?? 0 })),
  );
  const faults = [...made.value.report.faults, ...second];
  if (faults.length > 0) return hold(folder, stem, made.value, faults, options);
  return release(folder, stem, made.value, options);
}

/** With --json a script is answered as well: the same keys as in a plan, those that there are. */
function refuse(problems: readonly Problem[], { json }: MakeOptions): ExitCode {
  tellProblems(problems);
  if (json) result(JSON.stringify(refusedFile(problems), null, 1));
  return WRONG_INPUT;
}

/** A program with a fault is not released, and older ones of this job are set aside: nothing runnable is left. */
function hold(folder: string, stem: string, made: Made, faults: readonly Finding[], { json }: MakeOptions): ExitCode {
  tellProblems(toldOnce(faults));
  for (const old of setAside(folder, stem, made.post.extension, [])) aside(`older program set aside as ${old}`);
  aside(`${made.job.name}: not released, ${faults.length} fault${faults.length === 1 ? '' : 's'}`);
  if (json) result(JSON.stringify(planFile({ ...made, report: { ...made.report, faults } }), null, 1));
  return FAULTY_PROGRAM;
}

function release(folder: string, stem: string, made: Made, options: MakeOptions): ExitCode {
  const plan = planFile(made);
  const page = jobPage(made, made.course, readMoves);
  if (!page.ok) return refuse(page.problems, options);
  const files: OutputFile[] = [
    ...made.programs.map((p) => ({ name: p.file, text: p.text })),
    { name: `${stem}.plan.json`, text: `${JSON.stringify(plan, null, 1)}\n` },
    { name: `${stem}.sheet.html`, text: setupSheet(made) },
    { name: `${stem}.view.html`, text: page.value },
  ];
  const written = writeAll(folder, files);
  if (!written.ok) return refuse(written.problems, options);
  for (const old of setAside(
    folder,
    stem,
    made.post.extension,
    made.programs.map((p) => p.file),
  )) {
    aside(`older program set aside as ${old}`);
  }
  if (options.json) result(JSON.stringify(plan, null, 1));
  else result(summary(made, written.value));
  return DONE;
}

function summary(made: Made, paths: readonly string[]): string {
  const { job, holding, report } = made;
  // As sheet, page and plan file count it: with the machine's accelerations.
  const seconds = made.course.programs.reduce((sum, p) => sum + p.seconds, 0);
  const operations = made.plan.setups.flatMap((s) => s.operations).length;
  return [
    `${job.name}: ${made.programs.length} program${made.programs.length === 1 ? '' : 's'}, ${operations} operations, about ${short(seconds / 60, 0)} min of cutting`,
    `held by ${holding.by}${holding.tabs.length > 0 ? `: ${holding.reasons[0]}` : ''}`,
    ...report.proven.map((p) => `proven: ${p.says}`),
    ...paths,
  ].join('\n');
}
