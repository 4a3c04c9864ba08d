/** Bad input: what is told, where, and what to do. */
import { describe, expect, it } from 'vitest';
import { makeText } from '../helpers.ts';
import { lever, only, planOf, type RawJob, readProblems, refusals, withHole } from './jobs.ts';

const MILL = {
  ...{ number: 1, kind: 'end mill', diameter: 3, fluteLength: 9, stickOut: 18, shank: 6 },
  ...{ material: 'carbide', centreCutting: true },
};
const drill = (number: number, diameter: number) => ({ number, kind: 'drill', diameter });
const reamer = (number: number, diameter: number, lead: number) => ({ number, kind: 'reamer', diameter, lead });

function thick(j: RawJob): void {
  j.part.thickness = 9;
  j.stock = { size: [140, 60, 9] };
}

describe('told by the reading of the job', () => {
  it('an unknown thread, with the nearest', () => {
    const told = only(readProblems(withHole({ tap: 'M2.55' })));
    expect(told.code).toBe('unknown-thread');
    expect(told.remedy).toContain('M2.5');
  });

  it('a fit without tables', () => {
    const told = only(readProblems(withHole({ ream: 5, fit: 'Q7' })));
    expect(told.severity).toBe('fault');
    expect(`${told.found} ${told.wanted}`).toContain('Q7');
  });

  it('two holes that overlap, and a tapped hole that breaks through the edge', () => {
    const overlap = readProblems(withHole({ drill: 6 }, (j) => j.part.holes.push({ at: [4, 0], drill: 6 })));
    expect(overlap.map((p) => p.code)).toContain('holes-overlap');
    const edge = readProblems(withHole({ at: [0, 11], tap: 'M3' }));
    expect(edge.map((p) => p.code)).toContain('hole-through-edge');
    const thin = readProblems(withHole({ at: [0, 10.3], tap: 'M3' }));
    expect(thin.some((p) => p.code === 'wall-too-thin' || p.code === 'wall-thin')).toBe(true);
  });
});

describe('told by the plan', () => {
  it('a screw head where the chamfer cutter passes along the edge', () => {
    const held = (radius: number, chamfer: number) =>
      makeText(
        JSON.stringify({
          ...{ name: 'head', material: 'CuZn39Pb3', hold: { by: 'screws', through: [0], thread: 'M4' } },
          part: {
            ...{ thickness: 4, chamfer, holes: [{ at: [0, 0], ream: 5 }] },
            outline: { circle: { at: [0, 0], diameter: 2 * radius } },
          },
        }),
      ).problems.map((p) => p.code);
    // ISO 4762: the head of M4 is 7 mm wide; a 6 mm cone beside the edge of a 12 mm disc comes within half a millimetre of it.
    expect(held(6, 0.3)).toContain('screw-head-in-way');
    expect(held(6, 0)).not.toContain('screw-head-in-way');
    expect(held(8, 0.3)).not.toContain('screw-head-in-way');
  });

  it('no drill of the size: the nearest in the drawer, and another way', () => {
    const told = only(refusals(withHole({ drill: 3 }, (j) => (j.cutters = [MILL, drill(2, 2.9), drill(3, 3.2)]))));
    expect(told.code).toBe('cutter-missing');
    expect(told.place.path).toBe('part.holes[0]');
    expect(told.found).toContain('its nearest: 2.9 mm, 3.2 mm');
    expect(told.remedy).toContain('"bore"');
  });

  it('no reamer of the size, with those there are', () => {
    const told = only(refusals(withHole({ ream: 5 }, (j) => (j.cutters = [MILL, drill(2, 4.9), reamer(3, 6, 1.5)]))));
    expect(told.code).toBe('cutter-missing');
    expect(told.found).toMatch(/no reamer of 5 mm .*6 mm/);
  });

  it('sizes are told in the units of the job', () => {
    const told = only(
      refusals({
        units: 'inch',
        material: 'CuZn39Pb3',
        part: {
          thickness: 0.125,
          outline: { circle: { at: [0, 0], diameter: 1 } },
          holes: [{ at: [0, 0], drill: 0.123 }],
        },
        stock: { size: [4, 2, 0.125] },
      }),
    );
    expect(told.found).toContain('0.123 in');
  });

  it('deeper than the flutes', () => {
    const short = { ...drill(2, 3), fluteLength: 4 };
    const told = only(refusals(withHole({ drill: 3 }, (j) => (j.cutters = [MILL, short]))));
    expect(told.code).toBe('flute-too-short');
    expect(told.found).toContain('flutes of 4 mm');
    const blunt = { ...MILL, fluteLength: 3 };
    expect(only(refusals(lever((j) => (j.cutters = [blunt])))).code).toBe('flute-too-short');
  });

  it('a blind hole whose point would come through', () => {
    const told = only(refusals(withHole({ drill: 6, depth: 3 })));
    expect(told.code).toBe('blind-too-deep');
    expect(told.found).toContain('4.803 mm');
  });

  it('a reamer deeper than the hole allows: through by the backing, blind by the part', () => {
    const long = [MILL, drill(2, 4.9), reamer(3, 5, 6)];
    const through = only(refusals(withHole({ ream: 5 }, (j) => (j.cutters = long))));
    expect(through.code).toBe('reamer-too-deep');
    expect(through.remedy).toContain('thicker backing');
    const blind = only(
      refusals(
        withHole({ ream: 5, depth: 3 }, (j) => {
          thick(j);
          j.cutters = [{ ...MILL, fluteLength: 10 }, drill(2, 4.9), reamer(3, 5, 4)];
        }),
      ),
    );
    expect(blind.code).toBe('reamer-too-deep');
    const shallow = only(
      refusals(withHole({ ream: 5, depth: 2 }, (j) => (j.cutters = [MILL, drill(2, 4.9), reamer(3, 5, 1.5)]))),
    );
    expect(shallow.code).toBe('reamer-too-deep');
  });

  it('a through hole over a bare table', () => {
    const told = only(refusals(withHole({ drill: 5 }, (j) => (j.under = { kind: 'table' }))));
    expect(told.code).toBe('no-room-below');
    expect(told.remedy).toContain('backing plate');
  });

  it('a slot, a pocket or a bore that no cutter enters: the size that would', () => {
    const wide = [{ ...MILL, diameter: 6, fluteLength: 13 }];
    const slot = { outline: { slot: { from: [-3, 0], to: [3, 0], width: 4 } }, through: true };
    const told = only(
      refusals(lever((j) => Object.assign(j.part, { pockets: [slot] }) && Object.assign(j, { cutters: wide }))),
    );
    expect(told.code).toBe('cutter-too-wide');
    expect(told.wanted).toContain('at most 4 mm');
    const bore = only(refusals(withHole({ bore: 5 }, (j) => (j.cutters = wide))));
    expect(bore.code).toBe('cutter-too-wide');
    expect(bore.wanted).toContain('at most 5 mm');
  });

  it('a countersink without its cutter, a tap for the machine without its tap', () => {
    const few = [MILL, drill(2, 2.4), drill(3, 2.5)];
    const sunk = only(refusals(withHole({ clear: 'M2', countersink: true }, (j) => (j.cutters = few))));
    expect(sunk.found).toMatch(/countersink of 90 degrees and at least 4.4 mm/);
    const tapped = withHole({ tap: 'M3' }, (j) => Object.assign(j, { cutters: few, machine: { tapping: 'machine' } }));
    expect(only(refusals(tapped)).found).toContain('no tap M3');
  });

  it('all faults at once, each at its hole', () => {
    const told = refusals(
      lever((j) => {
        j.part.holes = [
          { at: [0, 0], drill: 3 },
          { at: [42, 0], ream: 5 },
        ];
        j.cutters = [MILL];
      }),
    );
    expect(new Set(told.map((p) => p.place.path))).toEqual(new Set(['part.holes[0]', 'part.holes[1]']));
  });

  it('without a spot drill it goes on, with a caution', () => {
    const p = planOf(withHole({ drill: 3 }, (j) => (j.cutters = [MILL, drill(2, 3)])));
    expect(only(p.told.filter((x) => x.severity === 'caution')).code).toBe('no-spot');
  });

  it('sharp inside corners of outline and pocket are told with place and size', () => {
    const raw = lever((j) => {
      j.part.outline = {
        vertices: [
          [0, 0],
          [60, 0],
          [60, 40],
          [30, 40],
          [30, 20],
          [0, 20],
        ],
      };
      j.part.pockets = [
        {
          outline: {
            vertices: [
              [36, 8],
              [54, 8],
              [54, 32],
              [36, 32],
            ],
          },
          depth: 1.5,
        },
      ];
      j.stock = { size: [120, 80, 4] };
    });
    const notes = planOf(raw).told.filter((x) => x.code === 'corner-left-round');
    const outline = only(notes.filter((x) => x.found.includes('outline')));
    expect(outline.place.at).toEqual([30, 20]);
    expect(notes.filter((x) => x.found.includes('pocket 1')).map((x) => x.place.at)).toEqual(
      expect.arrayContaining([
        [36, 8],
        [54, 8],
        [54, 32],
        [36, 32],
      ]),
    );
  });
});
