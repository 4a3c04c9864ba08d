/** Packed pages of a long program in a file of the system's folder for such files; it has no name left by the time it is written. */
import { closeSync, openSync, readSync, unlinkSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fault, type Problem } from '../base/problem.ts';
import { PAGES_OPEN, type Shelf } from '../job.ts';

/** Thrown where the folder takes no file, or no more of it: told as wrong surroundings, not as a bug. */
export class NoRoom extends Error {
  readonly problem: Problem;

  constructor(error: unknown) {
    super('no room for a temporary file');
    const why = (error as NodeJS.ErrnoException).code ?? String(error);
    const found = `a temporary file cannot be written there (${why})`;
    const wanted = 'room for about ten times the program';
    this.problem = fault({
      code: 'no-room',
      at: { file: tmpdir() },
      found,
      wanted,
      remedy: 'make room, or set TMPDIR to a folder that has it',
    });
  }
}

/** `done` gives the room back. */
export interface DiskShelves {
  readonly next: () => Shelf;
  readonly done: () => void;
}

export function diskShelves(): DiskShelves {
  const files: number[] = [];
  const next = (): Shelf => {
    let file: number | null = null;
    let bytes = 0;
    return {
      open: PAGES_OPEN,
      write: (page, numbers) => {
        file ??= opened(files);
        bytes = numbers.byteLength;
        whole(numbers, bytes, (part, from) => writeSync(file!, part, 0, part.length, page * bytes + from));
      },
      read: (page, numbers) =>
        whole(numbers, bytes, (part, from) => readSync(file!, part, 0, part.length, page * bytes + from)),
    };
  };
  return { next, done: () => files.splice(0).forEach((f) => closeSync(f)) };
}

/** The system may take or give less than it is asked for at once. */
function whole(numbers: Float64Array, bytes: number, move: (part: Uint8Array, from: number) => number): void {
  const all = new Uint8Array(numbers.buffer, numbers.byteOffset, bytes);
  try {
    for (let at = 0; at < bytes; ) {
      const moved = move(all.subarray(at), at);
      if (moved === 0) throw new Error('end of file');
      at += moved;
    }
  } catch (error) {
    throw new NoRoom(error);
  }
}

let count = 0;

function opened(files: number[]): number {
  const path = join(tmpdir(), `tabwright-${process.pid}-${count++}`);
  try {
    const file = openSync(path, 'wx+', 0o600);
    files.push(file);
    unlinkSync(path);
    return file;
  } catch (error) {
    throw new NoRoom(error);
  }
}
