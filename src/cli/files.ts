/** The only code that touches the disk. */
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { basename, dirname, isAbsolute, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { bad, fault, good, type Outcome } from '../base/problem.ts';

/** No job, drawing or program of this trade comes near; more is a wrong file. */
export const LARGEST_FILE_BYTES = 64 * 1024 * 1024;

/** Text of a file, or a fault that says why not. */
export function readText(path: string): Outcome<string> {
  const bytes = readBytes(path);
  return bytes.ok ? decode(bytes.value, path) : bytes;
}

export function readBytes(path: string): Outcome<Uint8Array> {
  let size: number;
  try {
    const stat = statSync(path);
    if (stat.isDirectory())
      return bad(
        fault({
          code: 'file-is-folder',
          at: { file: path },
          found: 'a folder',
          wanted: 'a file',
          remedy: 'name the file inside it',
        }),
      );
    size = stat.size;
  } catch (error) {
    return bad(unreadable(path, error));
  }
  if (size > LARGEST_FILE_BYTES) {
    const mega = Math.round(size / 1024 / 1024);
    return bad(
      fault({
        code: 'file-too-large',
        at: { file: path },
        found: `${mega} MB`,
        wanted: `at most ${LARGEST_FILE_BYTES / 1024 / 1024} MB`,
        remedy: 'check that it is the right file',
      }),
    );
  }
  try {
    return good(readFileSync(path));
  } catch (error) {
    return bad(unreadable(path, error));
  }
}

function decode(bytes: Uint8Array, path: string): Outcome<string> {
  if (bytes.includes(0)) {
    return bad(
      fault({
        code: 'file-binary',
        at: { file: path },
        found: 'bytes that are not text',
        wanted: 'a text file',
        remedy: 'check that it is the right file',
      }),
    );
  }
  // Drawings from before 2007 are Latin-1; every byte of that is a character, so the second try cannot fail.
  try {
    return good(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
  } catch {
    return good(new TextDecoder('latin1').decode(bytes));
  }
}

export function unreadable(path: string, error: unknown) {
  const code = (error as NodeJS.ErrnoException).code;
  if (code === 'ENOENT')
    return fault({
      code: 'file-missing',
      at: { file: path },
      found: 'no such file',
      wanted: 'a file that is there',
      remedy: 'check its name and folder',
    });
  return fault({
    code: 'file-unreadable',
    at: { file: path },
    found: `it cannot be read (${code ?? 'unknown reason'})`,
    wanted: 'a readable file',
    remedy: 'check its permissions',
  });
}

/** Reads files named by a job, from the job's own folder; as bytes, since older drawings are not UTF-8. A fault names no file: it is told at the job's line. */
export function readerBeside(jobPath: string): (name: string) => Outcome<Uint8Array> {
  const folder = dirname(resolve(jobPath));
  return (name) => {
    const bytes = readBytes(isAbsolute(name) ? name : join(folder, name));
    return bytes.ok ? bytes : bad(...bytes.problems.map((p) => ({ ...p, place: {}, found: `${name}: ${p.found}` })));
  };
}

/** Parsed JSON of a post shipped with the program; undefined when there is none of that name. */
export function shippedPost(name: string): unknown {
  if (!/^[a-z][a-z0-9-]*$/.test(name)) return undefined;
  const path = join(dirname(fileURLToPath(import.meta.url)), '..', 'posts', `${name}.json`);
  if (!existsSync(path)) return undefined;
  return JSON.parse(readFileSync(path, 'utf8'));
}

export interface OutputFile {
  readonly name: string;
  readonly text: string;
}

/** Each file is written beside its place and moved there whole, so that no half-written program can be run. */
export function writeAll(folder: string, files: readonly OutputFile[]): Outcome<readonly string[]> {
  const parts = files.map((file) => join(folder, `.${file.name}.part`));
  try {
    makeFolder(resolve(folder));
    files.forEach((file, i) => writeFileSync(parts[i]!, file.text));
    files.forEach((file, i) => renameSync(parts[i]!, join(folder, file.name)));
  } catch (error) {
    sweep(parts);
    const code = (error as NodeJS.ErrnoException).code ?? 'unknown reason';
    return bad(
      fault({
        code: 'file-unwritable',
        at: { file: folder },
        found: `it cannot be written (${code})`,
        wanted: 'a folder that can be written',
        remedy: 'check the folder and its permissions',
      }),
    );
  }
  return good(files.map((f) => join(folder, f.name)));
}

/** One level at a time: the recursive call of Node 20 never returns where a parent takes no folders (seen in /proc). */
function makeFolder(folder: string): void {
  if (existsSync(folder)) return;
  if (dirname(folder) !== folder) makeFolder(dirname(folder));
  mkdirSync(folder);
}

/** Takes away what was begun; that nothing of it may be there is no fault. */
function sweep(paths: readonly string[]): void {
  for (const path of paths) {
    try {
      rmSync(path, { force: true });
    } catch {
      // A folder that could not be written cannot be swept either: the fault is told by the caller.
    }
  }
}

/** Older programs of a job that are not among `keep` get `.old` added, so that nobody runs them by mistake. */
export function setAside(folder: string, stem: string, extension: string, keep: readonly string[]): readonly string[] {
  if (!existsSync(folder)) return [];
  const pattern = new RegExp(`^${stem}(-\\d+)?\\.${extension}$`);
  const aside = readdirSync(folder).filter((n) => pattern.test(n) && !keep.includes(n));
  for (const name of aside) renameSync(join(folder, name), join(folder, `${name}.old`));
  return aside.map((n) => join(folder, `${n}.old`));
}

export function stemOf(path: string): string {
  return basename(path).replace(/\.[^.]*$/, '');
}
