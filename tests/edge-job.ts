/** A clock's arm with holes from its edge, for the tests of that set-up: two copies, one mirrored. */
export function edgeJob(change: (job: any) => void = () => undefined): string {
  const job = {
    name: 'edge arm',
    material: 'CuZn39Pb3',
    part: {
      thickness: 5,
      outline: {
        bosses: [
          { at: [0, 0], radius: 7 },
          { at: [32, 0], radius: 4 },
        ],
      },
      holes: [{ at: [0, 0], ream: 5 }],
      edgeHoles: [
        { boss: 0, direction: 110, tap: 'M2', depth: 4.5 },
        { boss: 1, direction: -90, drill: 1.6, depth: 3 },
      ],
    },
    copies: { count: 2, mirrored: 1 },
    hold: { by: 'tabs', tabs: { count: 5, width: 3, height: 1.5 } },
  };
  change(job);
  return JSON.stringify(job);
}
