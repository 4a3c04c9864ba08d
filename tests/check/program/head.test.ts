import { describe, expect, it } from 'vitest';
import { checkPrograms } from '../../../src/check/check.ts';
import { readHead } from '../../../src/check/program/head.ts';
import { type Knobs, leverJob, leverProgram } from '../lever.ts';

function head(lines: string[], units: 'mm' | 'inch' = 'mm') {
  return readHead(
    lines.map((text, i) => ({ block: i + 1, column: 1, text, message: false })),
    units,
  );
}

describe('reading the head', () => {
  it('reads every fact', () => {
    const h = head([
      'tower clock lever: program 2 of 3, upper face',
      'ZERO part',
      'STOCK X-1 Y-2.5 Z-4.2 TO X75 Y30 Z0.5',
      'PART 1 AT X22 Y15 TURN -30.5 MIRROR yes',
      'CUTTER 12 ball-nosed end mill D2.5',
      'HOLD floor 0.2',
      'TAB 3 PART 2 AT X1 Y2 DIRECTION -90 WIDTH 2 HEIGHT 0.4 FOOTPRINT 7.1',
      'SCREWS FITTED 0 3',
    ]);
    expect(h.program).toEqual({ number: 2, of: 3, block: 1 });
    expect(h.setup).toBe('upper face');
    expect(h.zero).toBe('part');
    expect(h.stock).toEqual({ min: [-1, -2.5, -4.2], max: [75, 30, 0.5] });
    expect(h.parts[0]).toMatchObject({ number: 1, at: { x: 22, y: 15 }, turnDeg: -30.5, mirror: true });
    expect(h.cutters[0]).toMatchObject({ number: 12, kind: 'ball-nosed end mill', diameter: 2.5 });
    expect(h.hold).toMatchObject({ by: 'floor', figure: 0.2 });
    expect(h.tabs[0]).toMatchObject({ number: 3, part: 1, directionDeg: -90, width: 2, height: 0.4, footprint: 7.1 });
    expect(h.events).toEqual([{ kind: 'screws', holes: [0, 3], block: 8 }]);
    expect(h.unread).toEqual([]);
  });

  it('inches become millimetres, angles stay', () => {
    const h = head(
      [
        'PART 1 AT X1 Y2 TURN 45 MIRROR no',
        'CUTTER 1 end mill D0.125',
        'HOLD stub PART 2 AT X1 Y0 DIRECTION 180 WIDTH 0.25 FOOTPRINT 0.5',
      ],
      'inch',
    );
    expect(h.parts[0]!.at).toEqual({ x: 25.4, y: 50.8 });
    expect(h.parts[0]!.turnDeg).toBe(45);
    expect(h.cutters[0]!.diameter).toBeCloseTo(3.175, 12);
    expect(h.hold!.by).toBe('stub');
    expect(h.stubs).toEqual([
      { part: 1, at: { x: 25.4, y: 0 }, directionDeg: 180, width: 6.35, footprint: 12.7, block: 3 },
    ]);
  });

  it('what looks like a fact and cannot be read is told, other comments are left alone', () => {
    const h = head(['TAB 1 PART 1 AT X1', 'HOLD magic', 'Material brass', 'STOCK X1 TO X2', 'tabs are sawn by hand']);
    expect(h.unread.map((u) => u.block)).toEqual([1, 2, 4]);
  });
});

describe('the head against the job', () => {
  const faults = (edit: (t: string) => string, k: Knobs = {}, job = leverJob()) => {
    const text = leverProgram(k);
    const edited = edit(text);
    const r = checkPrograms([{ file: 'a.ngc', text: edited }], job);
    return r.faults.filter((f) => f.code === 'head-disagrees').map((f) => f.found);
  };

  it('a program without a head is told what to state, and not to be made again', () => {
    const bare = leverProgram({}).replace(/^\((ZERO|STOCK|PART|HOLD|TAB|CUTTER) .*\n/gm, '');
    const remedies = (text: string) =>
      checkPrograms([{ file: 'a.ngc', text }], leverJob())
        .faults.filter((f) => f.code === 'head-disagrees' && f.found.startsWith('the head does not'))
        .map((f) => f.remedy);
    expect(new Set(remedies(bare))).toEqual(new Set([expect.stringMatching(/^write .*ZERO, STOCK.*without --job$/)]));
    expect(new Set(remedies(leverProgram({}).replace(/^\(ZERO .*\n/m, '')))).toEqual(
      new Set(['make the program again from this job']),
    );
  });

  const wrong: [string, (t: string) => string, RegExp][] = [
    ['zero', (t) => t.replace('ZERO stock', 'ZERO part'), /ZERO part/],
    ['no zero', (t) => t.replace('(ZERO stock)\n', ''), /zero/],
    ['no stock', (t) => t.replace(/\(STOCK.*\n/, ''), /stock/],
    ['place', (t) => t.replace('PART 1 AT X22', 'PART 1 AT X22.01'), /elsewhere/],
    ['turn', (t) => t.replace('TURN 0', 'TURN 0.01'), /elsewhere/],
    ['mirror', (t) => t.replace('MIRROR no', 'MIRROR yes'), /elsewhere/],
    ['a part too many', (t) => t.replace('(CUTTER 1', '(PART 2 AT X1 Y1 TURN 0 MIRROR no)\n(CUTTER 1'), /2 parts/],
    ['diameter', (t) => t.replace('end mill D3', 'end mill D3.02'), /D3.02/],
    ['kind', (t) => t.replace('end mill D3', 'slot drill D3'), /slot drill/],
    ['a cutter the job has not', (t) => t.replace('CUTTER 2 drill', 'CUTTER 7 drill'), /cutter 7/],
    ['way of holding', (t) => t.replace('HOLD tabs', 'HOLD glue'), /held by glue/],
    ['no way of holding', (t) => t.replace('(HOLD tabs)\n', ''), /what holds/],
    ['thinner tab', (t) => t.replace('WIDTH 2 ', 'WIDTH 1.9 '), /1.900 wide/],
    ['lower tab', (t) => t.replace('HEIGHT 0.8', 'HEIGHT 0.7'), /0.700 high/],
    ['direction', (t) => t.replace(/DIRECTION 86.\d+/, 'DIRECTION 80'), /points to/],
    ['off the edge', (t) => t.replace(/TAB 1 PART 1 AT X(\S+) Y(\S+)/, 'TAB 1 PART 1 AT X$1 Y5'), /off the edge/],
    ['another part', (t) => t.replace('TAB 1 PART 1', 'TAB 1 PART 3'), /part 3/],
  ];
  it.each(wrong)('%s', (_name, edit, expected) => {
    expect(edit(leverProgram())).not.toBe(leverProgram());
    expect(faults(edit).some((f) => expected.test(f))).toBe(true);
  });

  it('agrees when nothing is changed', () => {
    expect(faults((t) => t)).toEqual([]);
  });

  it('refuses a tab on an edge that shall have none', () => {
    const stretch = { kind: 'stretch', from: { x: 10, y: -6 }, to: { x: 22, y: -5 } } as const;
    const found = faults((t) => t, {}, leverJob({}, { noTabs: [stretch] }));
    expect(found).toEqual(['tab 1 stands on an edge that shall have none']);
    // The same stretch named the other way round is all the rest of the edge.
    const rest = { kind: 'stretch', from: stretch.to, to: stretch.from } as const;
    expect(faults((t) => t, {}, leverJob({}, { noTabs: [rest] }))).toEqual([
      'tab 2 stands on an edge that shall have none',
    ]);
  });
});
