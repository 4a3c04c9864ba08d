/** Reading and writing on the disk: what is refused, what is set aside, that nothing half written is left. */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { readBytes, readerBeside, readText, setAside, shippedPost, stemOf, writeAll } from '../../src/cli/files.ts';
import { everythingIn, scratch } from './command.ts';

const { folder, clear } = scratch();
afterAll(clear);

function fresh(name: string): string {
  const path = join(folder, name);
  mkdirSync(path);
  return path;
}

function fill(path: string, names: readonly string[]): void {
  for (const name of names) writeFileSync(join(path, name), name);
}

describe('setting older programs aside', () => {
  it('renames the programs of the job that are not kept, and no other file', () => {
    const place = fresh('aside');
    const others = ['lever-arm.ngc', 'lever.nc', 'lever.plan.json', 'my-lever.ngc', 'lever-2x.ngc', 'leverxngc'];
    fill(place, ['lever.ngc', 'lever-1.ngc', 'lever-2.ngc', 'lever-10.ngc', ...others]);
    const told = setAside(place, 'lever', 'ngc', ['lever-1.ngc']);
    expect(told.map((p) => p.slice(place.length + 1)).sort()).toEqual([
      'lever-10.ngc.old',
      'lever-2.ngc.old',
      'lever.ngc.old',
    ]);
    expect(everythingIn(place)).toEqual(
      ['lever-1.ngc', 'lever-10.ngc.old', 'lever-2.ngc.old', 'lever.ngc.old', ...others].sort(),
    );
    expect(readFileSync(join(place, 'lever.ngc.old'), 'utf8')).toBe('lever.ngc');
  });

  it('takes the place of one set aside before, and minds no missing folder', () => {
    const place = fresh('again');
    fill(place, ['lever.ngc', 'lever.ngc.old']);
    setAside(place, 'lever', 'ngc', []);
    expect(everythingIn(place)).toEqual(['lever.ngc.old']);
    expect(readFileSync(join(place, 'lever.ngc.old'), 'utf8')).toBe('lever.ngc');
    expect(setAside(join(folder, 'nowhere'), 'lever', 'ngc', [])).toEqual([]);
  });
});

describe('writing', () => {
  it('makes the folder and leaves only whole files', () => {
    const place = join(folder, 'deep', 'er');
    const written = writeAll(place, [
      { name: 'a.ngc', text: 'one' },
      { name: 'b.json', text: 'two' },
    ]);
    expect(written.ok && written.value).toEqual([join(place, 'a.ngc'), join(place, 'b.json')]);
    expect(everythingIn(place)).toEqual(['a.ngc', 'b.json']);
    expect(readFileSync(join(place, 'a.ngc'), 'utf8')).toBe('one');
  });

  it('leaves the older file whole and no pieces when a file cannot be written', () => {
    const place = fresh('half');
    fill(place, ['a.ngc']);
    // A folder stands where the second file is written first, so the second write fails after the first.
    mkdirSync(join(place, '.b.json.part'));
    const written = writeAll(place, [
      { name: 'a.ngc', text: 'new' },
      { name: 'b.json', text: 'new' },
    ]);
    expect(written.ok).toBe(false);
    expect(written.problems.map((p) => p.code)).toEqual(['file-unwritable']);
    expect(everythingIn(place)).toEqual(['.b.json.part', 'a.ngc']);
    expect(readFileSync(join(place, 'a.ngc'), 'utf8')).toBe('a.ngc');
  });
});

describe('reading', () => {
  it('takes UTF-8 as it is and older drawings as Latin-1', () => {
    writeFileSync(join(folder, 'utf8'), 'Ø 5');
    writeFileSync(join(folder, 'latin1'), Buffer.from('Ø 5', 'latin1'));
    for (const name of ['utf8', 'latin1']) {
      const read = readText(join(folder, name));
      expect(read.ok && read.value).toBe('Ø 5');
    }
  });

  it('finds files beside the job, and names in the fault the file asked for', () => {
    writeFileSync(join(folder, 'plate.dxf'), 'x');
    const read = readerBeside(join(folder, 'job.json'));
    expect(read('plate.dxf').ok).toBe(true);
    expect(read(join(folder, 'plate.dxf')).ok).toBe(true);
    const absent = read('absent.dxf');
    expect(absent.ok).toBe(false);
    expect(absent.problems[0]!.found).toBe('absent.dxf: no such file');
    expect(absent.problems[0]!.place).toEqual({});
  });

  it('knows the shipped posts by bare name only', () => {
    expect(shippedPost('../package')).toBeUndefined();
    expect(shippedPost('nonsense')).toBeUndefined();
    expect(shippedPost('Standard')).toBeUndefined();
  });

  it('tells a folder from a file', () => {
    expect(readBytes(folder).problems.map((p) => p.code)).toEqual(['file-is-folder']);
    expect(existsSync(folder)).toBe(true);
  });

  it('takes the ending off a name', () => {
    expect(stemOf('/a/b.c/frame.cock.dxf')).toBe('frame.cock');
    expect(stemOf('plain')).toBe('plain');
  });
});
