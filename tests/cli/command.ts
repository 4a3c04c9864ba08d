/** Runs the built command, as a person's shell does or within this process, and makes jobs to run it on. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { vi } from 'vitest';
import { COMMAND } from '../built.ts';
import { leverOnPlate } from '../lever-job.ts';

export interface Run {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
  readonly lines: readonly string[];
}

export interface RunOptions {
  readonly cwd?: string;
  readonly env?: Readonly<Record<string, string>>;
  readonly command?: string;
}

/** The command in a process of its own: for what belongs to the process (start, streams, exit code, environment), once a command. */
export function tabwright(args: readonly string[], options: RunOptions = {}): Run {
  const run = spawnSync(process.execPath, [options.command ?? COMMAND, ...args], {
    encoding: 'utf8',
    cwd: options.cwd,
    env: { ...process.env, ...options.env },
    maxBuffer: 1 << 26,
  });
  return runOf(run.status, run.stdout, run.stderr);
}

/**
 * The same file within this process: compiled and warmed up once for many runs, each of which would else spend most of its time on
 * that. Standard input is no terminal here either.
 */
export async function tabwrightHere(args: readonly string[], options: Omit<RunOptions, 'env'> = {}): Promise<Run> {
  const command: { main: (args: readonly string[]) => Promise<void> } = await import(
    pathToFileURL(options.command ?? COMMAND).href
  );
  const before = { folder: process.cwd(), code: process.exitCode };
  const said = { stdout: '', stderr: '' };
  const spies = (['stdout', 'stderr'] as const).map((name) =>
    vi.spyOn(process[name], 'write').mockImplementation((text) => {
      said[name] += text;
      return true;
    }),
  );
  process.exitCode = undefined;
  try {
    if (options.cwd !== undefined) process.chdir(options.cwd);
    await command.main(args);
    return runOf(Number(process.exitCode ?? 0), said.stdout, said.stderr);
  } finally {
    for (const spy of spies) spy.mockRestore();
    process.chdir(before.folder);
    process.exitCode = before.code;
  }
}

function runOf(code: number | null, out: string, err: string): Run {
  return { code, out, err, lines: err.split('\n').filter((l) => l !== '') };
}

/** A new folder under the system's own for such things; `clear` takes it away. */
export function scratch(): { readonly folder: string; readonly clear: () => void } {
  const folder = mkdtempSync(join(tmpdir(), 'tabwright-test-'));
  return { folder, clear: () => rmSync(folder, { recursive: true, force: true }) };
}

/** Every file and folder below, hidden ones too, in order. */
export function everythingIn(folder: string): string[] {
  return readdirSync(folder, { recursive: true, encoding: 'utf8' }).sort();
}

interface Job {
  [key: string]: unknown;
}

/** A small lever with two holes, two clamps and its own cutters, fresh each time so that a test may spoil it. */
export function leverJob(): any {
  const job: Job = {
    ...leverOnPlate(),
    machine: { travel: [200, 150, 150] },
    cutters: [
      {
        number: 1,
        kind: 'end mill',
        diameter: 3,
        flutes: 2,
        fluteLength: 9,
        stickOut: 18,
        shank: 6,
        material: 'carbide',
        centreCutting: true,
      },
      { number: 2, kind: 'spot drill', diameter: 6, angle: 90, stickOut: 30 },
      { number: 3, kind: 'drill', diameter: 2.05 },
      { number: 4, kind: 'drill', diameter: 4.9 },
      { number: 5, kind: 'reamer', diameter: 5, lead: 1.5 },
      { number: 6, kind: 'tap', thread: 'M2.5' },
    ],
    hold: { by: 'tabs', tabs: { count: 3, width: 2, height: 0.8 } },
  };
  return job;
}

export function writeJob(folder: string, name: string, job: unknown): string {
  const path = join(folder, name);
  writeFileSync(path, typeof job === 'string' ? job : `${JSON.stringify(job, null, 1)}\n`);
  return path;
}
