/** `tabwright start`: a new job file, from options, or by questions on a terminal. */
import { existsSync } from 'node:fs';
import { basename, dirname, resolve } from 'node:path';
import { createInterface } from 'node:readline/promises';
import { fault } from '../../base/problem.ts';
import { kebab } from '../../base/text.ts';
import { newJob, START_QUESTIONS, type StartKey, startAnswers } from '../../job.ts';
import { writeAll } from '../files.ts';
import { aside, DONE, type ExitCode, result, tellProblems, WRONG_INPUT } from '../say.ts';

export type StartOptions = { readonly output?: string } & Readonly<Partial<Record<StartKey, string>>>;

export async function startCommand(options: StartOptions): Promise<ExitCode> {
  const { output, ...given } = options;
  const asked = Object.keys(given).length === 0 && process.stdin.isTTY && process.stdout.isTTY;
  const answers = startAnswers(asked ? await ask() : given);
  if (!answers.ok) {
    tellProblems(answers.problems);
    return WRONG_INPUT;
  }
  const path = output ?? `${kebab(answers.value.name)}.json`;
  if (existsSync(path)) {
    tellProblems([
      fault({
        code: 'file-exists',
        at: { file: path },
        found: 'a file of this name is there already',
        wanted: 'a new name',
        remedy: 'name another with -o',
      }),
    ]);
    return WRONG_INPUT;
  }
  if (!asked && Object.keys(given).length === 0)
    aside('no answers given and no terminal to ask on: every one as usual');
  const written = writeAll(dirname(resolve(path)), [{ name: basename(path), text: newJob(answers.value) }]);
  if (!written.ok) {
    tellProblems(written.problems);
    return WRONG_INPUT;
  }
  tellProblems(answers.problems);
  result(path);
  aside(`next: tabwright make ${path}`);
  return DONE;
}

/** Each question with its usual answer; an answer that does not read is asked for again. */
async function ask(): Promise<Partial<Record<StartKey, string>>> {
  const terminal = createInterface({ input: process.stdin, output: process.stdout });
  const answers: Partial<Record<StartKey, string>> = {};
  for (const q of START_QUESTIONS) {
    const usual = q.default[answers.units === 'inch' ? 'inch' : 'mm'];
    for (;;) {
      const answer = (await terminal.question(`${q.text} [${usual}]: `)).trim() || usual;
      const read = q.parse(answer);
      answers[q.key] = answer;
      if (read.ok) break;
      tellProblems(read.problems);
    }
  }
  terminal.close();
  return answers;
}
