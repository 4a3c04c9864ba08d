/** `tabwright view JOB|PROGRAM`: the page as one HTML file. A program with faults is shown too: that is how one sees them. */
import { basename, dirname, join, resolve } from 'node:path';
import { kindOfText } from '../../base/kind-of-text.ts';
import type { Problem } from '../../base/problem.ts';
import { kebab } from '../../base/text.ts';
import type { Finding } from '../../check/report.ts';
import { checkTexts, makeJob } from '../../job.ts';
import type { PageReader } from '../../show/page/data/read-program.ts';
import { readerBeside, readText, shippedPost, stemOf, writeAll } from '../files.ts';
import { notAProgram } from '../not-a-program.ts';
import { jobPage, programPage } from '../page.ts';
import { DONE, type ExitCode, FAULTY_PROGRAM, progress, result, tellProblems, WRONG_INPUT } from '../say.ts';

export interface ViewOptions {
  readonly output?: string;
}

export function viewCommand(path: string, options: ViewOptions, read: PageReader): ExitCode {
  const text = readText(path);
  if (!text.ok) return refuse(text.problems);
  return kindOfText(text.value) === 'job'
    ? viewJob(path, text.value, options, read)
    : viewProgram(path, text.value, options, read);
}

function viewJob(path: string, text: string, options: ViewOptions, read: PageReader): ExitCode {
  const made = makeJob({ text, file: path, read: readerBeside(path), post: shippedPost, say: progress });
  progress(null);
  if (!made.ok) return refuse(made.problems);
  const page = jobPage(made.value, made.value.course, read);
  if (!page.ok) return refuse(page.problems);
  tellProblems([...made.problems, ...made.value.report.cautions]);
  return write(path, `${kebab(made.value.job.name)}.view.html`, page.value, made.value.report.faults, options);
}

function viewProgram(path: string, text: string, options: ViewOptions, read: PageReader): ExitCode {
  const other = notAProgram(text, path);
  if (other !== null) return refuse([other]);
  const file = basename(path);
  const report = checkTexts([{ file, text }], null);
  const page = programPage(file, text, report, read);
  if (!page.ok) return refuse(page.problems);
  tellProblems(report.cautions);
  return write(path, `${stemOf(path)}.view.html`, page.value, report.faults, options);
}

function write(path: string, name: string, page: string, faults: readonly Finding[], options: ViewOptions): ExitCode {
  const file = options.output ?? join(dirname(resolve(path)), name);
  const written = writeAll(dirname(resolve(file)), [{ name: basename(file), text: page }]);
  if (!written.ok) return refuse(written.problems);
  tellProblems(faults);
  result(written.value.join('\n'));
  return faults.length > 0 ? FAULTY_PROGRAM : DONE;
}

function refuse(problems: readonly Problem[]): ExitCode {
  tellProblems(problems);
  return WRONG_INPUT;
}
