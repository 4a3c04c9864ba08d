/** Holes from the edge: how the part stands, what is planned for it, what is refused. */
import { describe, expect, it } from 'vitest';
import { toRad } from '../../src/base/units.ts';
import { withEdgeHoles } from '../../src/plan/edge/edge-plan.ts';
import { standOf } from '../../src/plan/edge/edge-set-up.ts';
import { makePlan } from '../../src/plan/make-plan.ts';
import { edgeJob } from '../edge-job.ts';
import { makeText, mustMake } from '../helpers.ts';
import { jobOf } from './jobs.ts';

const made = mustMake(edgeJob());
const edges = made.plan.setups.flatMap((s) => (s.edge === null ? [] : [s.edge]));

describe('a part on edge', () => {
  it('is a set-up for each hole, after the plate', () => {
    expect(made.plan.setups.map((s) => s.name)).toEqual(['upper face', 'edge hole 1', 'edge hole 2']);
    expect(made.programs.map((p) => p.file)).toEqual(['edge-arm-1.ngc', 'edge-arm-2.ngc', 'edge-arm-3.ngc']);
    const ids = made.plan.setups.flatMap((s) => s.operations.map((o) => o.id));
    expect(ids).toEqual(ids.map((_, i) => i));
  });

  // Turned by 90 - 110 = -20 degrees the hole points up; (32, 0) then lies at 32 (cos 20, -sin 20), less the crown's 7.
  it('stands so that the hole points up: the other boss by plane trigonometry', () => {
    const [, other] = edges[0]!.centres;
    expect(other!.x).toBeCloseTo(32 * Math.cos(toRad(20)), 9);
    expect(other!.z).toBeCloseTo(-32 * Math.sin(toRad(20)) - 7, 9);
    expect(edges[0]!.job.part.thickness).toBeCloseTo(32 * Math.sin(toRad(20)) + 7 + 4, 6);
    // Seen at -90 degrees the arm is upside down: the first boss lies to the right.
    expect(edges[1]!.centres[0]!.x).toBeCloseTo(32, 9);
  });

  it('is as long, thick and high as the part, with Y0 in the middle', () => {
    const { min, max } = edges[0]!.job.stock;
    expect(min[0]).toBeCloseTo(-7, 2);
    expect(max[0]).toBeCloseTo(32 * Math.cos(toRad(20)) + 4, 2);
    expect([min[1], max[1], max[2]]).toEqual([-2.5, 2.5, 0]);
  });

  it('is gripped so that a drill cannot slip it: twice its thrust over two faces of friction 0.07 x 0.9 for brass (RN-1391 p. 44)', () => {
    for (const { grip } of edges) {
      // A worn 1.6 mm drill in brass pushes with tens of newtons, not hundreds (drill makers' charts, from memory).
      const thrust = (grip * 2 * 0.07 * 0.9) / 2;
      expect(thrust).toBeGreaterThan(20);
      expect(thrust).toBeLessThan(200);
    }
  });

  it('says at its first stop how it stands, and that every copy does', () => {
    const words = made.programs[1]!.text.replace(/\)\n\(MSG, /g, ' ');
    expect(words).toContain('of mirrored parts the lower face');
    expect(words).toContain('Once for each of the 2 parts');
    expect(words).toContain('The centre of boss 2 then lies at X 30.07 mm, Z -17.945 mm');
    expect(words).toContain('HOLD jaws EDGE HOLE 1 BOSS 1 DIRECTION 110');
  });

  it('is told of by the name of its hole, which is counted apart from those of the plate', () => {
    const job = jobOf(JSON.parse(edgeJob((j) => (j.part.edgeHoles[1].drill = 1.63))));
    const plate = makePlan(job);
    const told = plate.ok ? withEdgeHoles(job, plate.value).problems.map((p) => p.found) : [];
    expect(told.filter((words) => /\bedge hole 2\b/.test(words)).length).toBeGreaterThan(0);
    expect(told.filter((words) => /(?<!edge )\bhole 2\b/.test(words))).toEqual([]);
    const titles = made.plan.setups.flatMap((s) => (s.edge === null ? [] : s.operations.map((o) => o.title)));
    expect(titles.length).toBeGreaterThan(3);
    for (const title of titles) expect(title).toMatch(/, edge hole [12]$/);
  });

  it('that runs into a bore is told', () => {
    // The bore begins 4.5 mm below the crown; the tapping drill of the first hole goes deeper, that of the second is far off.
    expect(made.told.filter((p) => p.code === 'edge-hole-into-hole')).toHaveLength(1);
    const shallow = mustMake(edgeJob((j) => (j.part.edgeHoles = [{ boss: 0, direction: 110, drill: 2, depth: 3 }])));
    expect(shallow.told.map((p) => p.code)).not.toContain('edge-hole-into-hole');
    const deep = mustMake(edgeJob((j) => (j.part.edgeHoles = [{ boss: 0, direction: 110, drill: 2, depth: 6 }])));
    expect(deep.told.map((p) => p.code)).toContain('edge-hole-into-hole');
    expect(deep.report.faults).toEqual([]);
    expect(deep.programs[1]!.text).toContain('(edge arm: set-up 2, program 1 of 1, edge hole 1)');
  });

  it('has its cutters touched off on the crown, beside the hole and within the thickness', () => {
    const touches = made.moves.programs
      .filter((p) => p.setup > 0)
      .flatMap((p) => p.moves.flatMap((m) => (m.kind === 'change' && m.touch !== null ? [m.touch] : [])));
    expect(touches.length).toBeGreaterThanOrEqual(4);
    for (const t of touches) {
      expect(t).toMatchObject({ at: { x: 0 }, z: 0 });
      expect(t.at.y).toBeGreaterThan(1);
      expect(t.at.y).toBeLessThan(2.5);
    }
  });

  it('clears the part where it is higher than the mouth', () => {
    const stand = standOf(made.job, made.job.part.edgeHoles[1]!);
    const highest = Math.max(...stand.higher.map((p) => p.z));
    expect(highest).toBeCloseTo(3, 2);
    for (const p of made.moves.programs.filter((q) => q.setup === 2)) {
      const travels = p.moves.flatMap((m) => (m.kind === 'rapid' && m.z !== undefined ? [m.z] : []));
      expect(Math.max(...travels)).toBeGreaterThan(highest + 5);
    }
  });

  it('is refused where the holder would meet the part that stands high beside the hole', () => {
    const out = makeText(
      edgeJob((j) => {
        j.part.outline.bosses = [
          { at: [0, 0], radius: 4 },
          { at: [18, 0], radius: 4 },
          { at: [18, 45], radius: 8 },
        ];
        j.part.edgeHoles = [{ boss: 0, direction: 90, drill: 1.6, depth: 3 }];
        j.copies = { count: 1, mirrored: 0 };
        j.part.holes = [];
      }),
    );
    expect(out.problems.map((p) => p.code)).toContain('edge-hole-blocked');
    expect(out.problems.find((p) => p.code === 'edge-hole-blocked')!.place.path).toBe('part.edgeHoles[0]');
  });
});
