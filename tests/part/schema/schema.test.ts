/** Keys, shapes and the JSON Schema made from the same definition. */
import { describe, expect, it } from 'vitest';
import { emitJobSchema } from '../../../src/part/schema/emit.ts';
import { faults, lever, leverWith, readGood, theFault } from '../jobs.ts';

describe('unknown keys', () => {
  it.each([
    [(j: any) => (j.materiel = 'O1'), 'materiel', 'material'],
    [(j: any) => (j.part.hole = []), 'hole', 'holes'],
    [(j: any) => (j.part.holes[0].reem = 5), 'reem', 'ream'],
    [(j: any) => (j.part.outline.boses = []), 'boses', 'bosses'],
    [(j: any) => (j.hold = { by: 'tabs', tabs: { cuont: 3 } }), 'cuont', 'count'],
    [(j: any) => (j.stock.mesured = 4), 'mesured', 'measured'],
    [(j: any) => (j.clamps[0].hieght = 4), 'hieght', 'height'],
    [(j: any) => (j.finish = { alowance: 1 }), 'alowance', 'allowance'],
  ])('case %#: the nearest is offered', (change, wrong, near) => {
    const all = faults(leverWith(change)).filter((p) => p.code === 'unknown-key');
    expect(all).toHaveLength(1);
    expect(all[0]!.found).toContain(`\`${wrong}\``);
    expect(all[0]!.wanted).toContain(`\`${near}\``);
    expect(all[0]!.place.path).toMatch(new RegExp(`${wrong}$`));
  });

  it('is told once, not also as the key that is missing', () => {
    const problem = theFault(
      leverWith((j) => {
        j.part.outline.bosses[0] = { at: [0, 0], raduis: 6 };
      }),
    );
    expect(problem.code).toBe('unknown-key');
    expect(problem.place.path).toBe('part.outline.bosses[0].raduis');
  });

  it('lists what there is when nothing is near', () => {
    expect(theFault(leverWith((j) => (j.zzzzzz = 1))).wanted).toMatch(/material.*part.*stock/);
  });
});

describe('shapes', () => {
  it.each([
    ['missing material', (j: any) => delete j.material, 'missing-key', 'material'],
    ['missing thickness', (j: any) => delete j.part.thickness, 'missing-key', 'part.thickness'],
    ['text for a number', (j: any) => (j.part.thickness = '4'), 'wrong-type', 'part.thickness'],
    ['a point of one', (j: any) => (j.part.holes[0].at = [1]), 'out-of-range', 'part.holes[0].at'],
    [
      'unknown kind',
      (j: any) => (j.cutters = [{ number: 1, kind: 'endmill', diameter: 3 }]),
      'unknown-choice',
      'cutters[0].kind',
    ],
    ['unknown holding', (j: any) => (j.hold = { by: 'tab' }), 'unknown-choice', 'hold.by'],
    ['holding as text', (j: any) => (j.hold = 'tabs'), 'wrong-shape', 'hold'],
    ['units', (j: any) => (j.units = 'cm'), 'unknown-choice', 'units'],
    ['empty outline', (j: any) => (j.part.outline = {}), 'missing-key', 'part.outline'],
    ['no bosses', (j: any) => (j.part.outline.bosses = []), 'out-of-range', 'part.outline.bosses'],
    ['null', (j: any) => (j.stock = null), 'wrong-type', 'stock'],
    [
      'half a cutter number',
      (j: any) => (j.cutters = [{ number: 1.5, kind: 'drill', diameter: 3 }]),
      'wrong-type',
      'cutters[0].number',
    ],
    ['negative allowance', (j: any) => (j.finish = { allowance: -1 }), 'out-of-range', 'finish.allowance'],
  ])('%s', (_, change, code, path) => {
    const all = faults(leverWith(change as any));
    expect(all[0]!.code).toBe(code);
    expect(all[0]!.place.path).toContain(path);
  });

  it.each([
    ['two sizes', (j: any) => (j.stock.size = [75, 30]), '[along x, along y, along z]'],
    ['three of a point', (j: any) => (j.part.holes[1].at = [32, 0, 0]), '[x, y]'],
  ])('a list of the wrong length is told by its shape: %s', (_, change, shape) => {
    expect(theFault(leverWith(change)).wanted).toContain(shape);
  });

  it('names every word of a holding that is given as text', () => {
    const { wanted } = theFault(leverWith((j) => (j.hold = 'tape')));
    for (const word of ['"auto"', 'tabs', 'floor', 'screws', 'glue', 'stub']) expect(wanted).toContain(word);
  });

  it('tells every problem of a file, not only the first', () => {
    const all = faults(
      leverWith((j) => {
        j.part.thickness = 0;
        j.units = 'ell';
        j.extra = 1;
      }),
    );
    expect(all.map((p) => p.code).toSorted()).toEqual(['out-of-range', 'unknown-choice', 'unknown-key']);
  });

  it('stops telling after a while', () => {
    const all = faults(leverWith((j) => (j.part.holes = Array.from({ length: 300 }, () => ({ at: [0] })))));
    expect(all.length).toBeLessThan(50);
    expect(all.at(-1)!.code).toBe('more-problems');
  });
});

describe('JSON Schema', () => {
  const schema: any = emitJobSchema();

  it('is draft 7, closed, and describes every key', () => {
    expect(schema.$schema).toBe('http://json-schema.org/draft-07/schema#');
    let objects = 0;
    let described = 0;
    const walk = (node: any): void => {
      if (typeof node !== 'object' || node === null) return;
      if (node.type === 'object') {
        objects++;
        expect(node.additionalProperties).toBe(false);
        for (const [key, value] of Object.entries<any>(node.properties)) {
          const words =
            value.description ?? value.anyOf?.[0]?.description ?? (value.const === undefined ? undefined : 'constant');
          if (words !== undefined) described++;
          else if (value.type !== 'object') throw new Error(`${key} is not described`);
        }
      }
      for (const value of Object.values(node)) walk(value);
    };
    walk(schema);
    expect(objects).toBeGreaterThan(25);
    expect(described).toBeGreaterThan(100);
  });

  it('is the same every time', () => {
    expect(JSON.stringify(emitJobSchema())).toBe(JSON.stringify(schema));
  });

  it('leaves room for a $schema key', () => {
    expect(readGood({ $schema: './job.schema.json', ...lever() }).name).toBe('lifting lever');
  });
});
