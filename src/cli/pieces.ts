/** A program read from disk piece by piece, so that memory does not grow with its length. */
import { closeSync, openSync, readSync, statSync } from 'node:fs';
import { bad, fault, good, type Outcome } from '../base/problem.ts';
import { unreadable } from './files.ts';

const PIECE_BYTES = 1024 * 1024;

export interface Pieces {
  readonly bytes: number;
  /** The first of it, to tell what kind of file it is. */
  readonly start: string;
  /** Once; bytes that are no UTF-8 become U+FFFD, which the language has no use for outside comments. */
  readonly all: () => Generator<string>;
}

export function openPieces(path: string): Outcome<Pieces> {
  const place = { file: path };
  try {
    const stat = statSync(path);
    if (stat.isDirectory())
      return bad(
        fault({
          code: 'file-is-folder',
          at: place,
          found: 'a folder',
          wanted: 'a file',
          remedy: 'name the file inside it',
        }),
      );
    const [first = ''] = piecesOf(path, PIECE_BYTES);
    if (first.includes('\0')) {
      const words = {
        found: 'bytes that are not text',
        wanted: 'a text file',
        remedy: 'check that it is the right file',
      };
      return bad(fault({ code: 'file-binary', at: place, ...words }));
    }
    return good({ bytes: stat.size, start: first.slice(0, START), all: () => piecesOf(path, Infinity) });
  } catch (error) {
    return bad(unreadable(path, error));
  }
}

const START = 4096;

function* piecesOf(path: string, most: number): Generator<string> {
  const decoder = new TextDecoder('utf-8');
  const buffer = new Uint8Array(PIECE_BYTES);
  const file = openSync(path, 'r');
  try {
    let read = 0;
    while (read < most) {
      const count = readSync(file, buffer, 0, buffer.length, null);
      if (count === 0) break;
      read += count;
      yield decoder.decode(buffer.subarray(0, count), { stream: true });
    }
    yield decoder.decode();
  } finally {
    closeSync(file);
  }
}
