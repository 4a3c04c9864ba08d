import { mkdtempSync, readdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { diskShelves, NoRoom } from '../../src/cli/shelf.ts';

const BEFORE = process.env.TMPDIR;

afterEach(() => {
  if (BEFORE === undefined) delete process.env.TMPDIR;
  else process.env.TMPDIR = BEFORE;
});

describe('pages on disk', () => {
  it('come back number for number, in any order, and leave no file', () => {
    const folder = mkdtempSync(join(tmpdir(), 'pages-'));
    process.env.TMPDIR = folder;
    const shelves = diskShelves();
    const [one, two] = [shelves.next(), shelves.next()];
    const page = (seed: number) => Float64Array.from({ length: 4000 }, (_, i) => Math.sin(seed + i) / 3);
    for (const k of [3, 0, 2, 1]) {
      one.write(k, page(k));
      two.write(k, page(k + 10));
    }
    expect(readdirSync(folder)).toEqual([]);
    for (const k of [0, 1, 2, 3, 0]) {
      const got = new Float64Array(4000);
      one.read(k, got);
      expect(got).toEqual(page(k));
      two.read(k, got);
      expect(got).toEqual(page(k + 10));
    }
    shelves.done();
    expect(readdirSync(folder)).toEqual([]);
  });

  it('say so where there is no folder for them', () => {
    process.env.TMPDIR = join(tmpdir(), 'no', 'such', 'folder');
    const shelf = diskShelves().next();
    const write = () => shelf.write(0, new Float64Array(8));
    expect(write).toThrow(NoRoom);
    try {
      write();
    } catch (error) {
      expect((error as NoRoom).problem).toMatchObject({ code: 'no-room', place: { file: process.env.TMPDIR } });
    }
  });

  it('that were never written are not made up', () => {
    const shelf = diskShelves().next();
    shelf.write(0, new Float64Array(8));
    expect(() => shelf.read(1, new Float64Array(8))).toThrow(NoRoom);
  });
});
