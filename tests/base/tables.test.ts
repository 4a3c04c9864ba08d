import { expect, test } from 'vitest';
import { Stopped, Tables, table } from '../../src/base/tables.ts';

const AREAS = table<[shape: object, scale: number], { area: number }>('areas');
const NAMES = table<[shape: object], string | null>('names');

test('an entry is made once for its keys, objects by identity and figures by value', () => {
  const tables = new Tables();
  const shape = {};
  let made = 0;
  const area = (of: object, scale: number) => tables.once(AREAS, [of, scale], () => ({ area: ++made }));
  expect(area(shape, 2)).toBe(area(shape, 2));
  expect(area(shape, 3)).not.toBe(area(shape, 2));
  expect(area({}, 2)).not.toBe(area({}, 2));
  expect(made).toBe(4);
});

test('null and undefined are answers too, and tables do not mix', () => {
  const tables = new Tables();
  const shape = {};
  let made = 0;
  const name = () => {
    made++;
    return null;
  };
  expect(tables.once(NAMES, [shape], name)).toBeNull();
  expect(tables.once(NAMES, [shape], name)).toBeNull();
  expect(made).toBe(1);
  expect(tables.once(AREAS, [shape, 1], () => ({ area: 1 }))).toEqual({ area: 1 });
  expect(new Tables().once(NAMES, [shape], () => 'another')).toBe('another');
});

test('a stop leaves nothing half made: asked again, the entry is made whole', () => {
  let stop = true;
  const tables = new Tables(() => stop);
  const shape = {};
  const make = () => {
    tables.mayStop();
    return 'whole';
  };
  expect(() => tables.once(NAMES, [shape], make)).toThrow(Stopped);
  stop = false;
  expect(tables.once(NAMES, [shape], make)).toBe('whole');
});
