/** The command `tabwright`: arguments in, exit code out. Loading it runs nothing, so that it may be run more than once in a process. */
import { Command, CommanderError } from 'commander';
import { readMoves, START_QUESTIONS } from '../job.ts';
import { checkCommand } from './commands/check.ts';
import { holdCommand } from './commands/hold.ts';
import { makeCommand } from './commands/make.ts';
import { outlineCommand } from './commands/outline.ts';
import { startCommand } from './commands/start.ts';
import { viewCommand } from './commands/view.ts';
import { aside, type ExitCode, WRONG_INPUT } from './say.ts';
import { VERSION } from './version.ts';

/** Runs the command on its arguments; the exit code is left with the process. */
export async function main(args: readonly string[]): Promise<void> {
  try {
    await commandLine().parseAsync(args, { from: 'user' });
  } catch (error) {
    if (error instanceof CommanderError) process.exitCode = error.exitCode === 0 ? 0 : WRONG_INPUT;
    else {
      aside(
        `fault internal ${error instanceof Error ? error.message : String(error)}; this is a mistake in Tabwright: please report it with the input`,
      );
      process.exitCode = WRONG_INPUT;
    }
  }
}

function commandLine(): Command {
  const program = new Command('tabwright')
    .description(
      'From the outline of a small flat metal part to a proven RS-274 program, a holding plan and a set-up sheet.',
    )
    .version(VERSION)
    .showHelpAfterError(false)
    .exitOverride()
    .configureOutput({ outputError: (text, write) => write(text.replace(/^error: /, 'fault call ')) });

  program
    .command('make')
    .description('plan, write and check the programs of a job; write them with plan, sheet and view')
    .argument('<job>', 'job file (JSON with comments)')
    .option('-o, --output <folder>', 'folder for the results (default: a folder with the job\u2019s name beside it)')
    .option('--post <name>', 'dialect of RS-274: standard, plain, lines, inch (overrules the job)')
    .option('--json', 'print the plan as JSON')
    .action((job, options) => done(makeCommand(job, options)));

  program
    .command('hold')
    .description('compare the ways of holding the part of a job, with numbers and reasons')
    .argument('<job>', 'job file')
    .option('--json', 'print the comparison as JSON')
    .action((job, options) => done(holdCommand(job, options)));

  program
    .command('check')
    .description('prove RS-274 programs, alone or against a job; several are run in order, the stock carried over')
    .argument('<program...>', 'program files')
    .option('--job <job>', 'the job they are for')
    .option('--machine <file>', 'machine file with the limits to judge by, when there is no job')
    .option('--json', 'print the whole report as JSON')
    .action((programs, options) => done(checkCommand(programs, options)));

  program
    .command('view')
    .description('the page of a job or of a program, as one HTML file')
    .argument('<file>', 'job file or program')
    .option('-o, --output <file>', 'file to write (default: NAME.view.html beside it)')
    .action((file, options) => done(viewCommand(file, options, readMoves)));

  drawingAndStart(program);
  return program;
}

/** Where a job comes from. */
function drawingAndStart(program: Command): void {
  program
    .command('outline')
    .description('what a drawing holds, with a job to start from; or the outline of a job as a drawing')
    .argument('<file>', 'drawing (.dxf, .svg) or job file')
    .option('-o, --output <file>', 'drawing to write, .svg or .dxf; or .json: the job to start from')
    .option('--layer <name>', 'layer of the drawing that carries the outline')
    .option('--id <name>', 'id of the SVG element that is the outline')
    .option('--units <mm|inch>', 'units of a drawing that states none (default: mm)')
    .option('--json', 'print what was found as JSON')
    .action((file, options) => done(outlineCommand(file, options)));

  const start = program
    .command('start')
    .description('write a new job file, from options, or by questions on a terminal')
    .option('-o, --output <file>', 'file to write (default: the name of the part)');
  for (const q of START_QUESTIONS) start.option(`--${dashed(q.key)} <value>`, `${q.text} (default: ${q.default.mm})`);
  start.action(async (options) => done(await startCommand(options)));
}

function dashed(key: string): string {
  return key.replace(/[A-Z]/g, (c) => `-${c.toLowerCase()}`);
}

/** Set instead of exiting, so that piped output is written out whole. */
function done(code: ExitCode): void {
  process.exitCode = code;
}

// The reader of a pipe may stop early, as `head` does: no more is wanted, and that is no fault.
for (const stream of [process.stdout, process.stderr]) {
  stream.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code !== 'EPIPE') throw error;
  });
}
