/** A small lever with two holes between two clamps, as a job file says it: fresh each time, so that a test may spoil it. */
export function leverOnPlate(): any {
  return {
    name: 'lever',
    material: 'CuZn39Pb3',
    part: {
      thickness: 4,
      outline: {
        bosses: [
          { at: [0, 0], radius: 6 },
          { at: [32, 0], radius: 4 },
        ],
      },
      holes: [
        { at: [0, 0], ream: 5, fit: 'H7' },
        { at: [32, 0], tap: 'M2.5' },
      ],
    },
    stock: { size: [75, 30, 4], measured: 4 },
    place: [{ at: [22, 15] }],
    clamps: [
      { from: [0, 0], to: [8, 30], height: 12 },
      { from: [67, 0], to: [75, 30], height: 12 },
    ],
  };
}
