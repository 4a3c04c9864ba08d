/** What still breaks a rule of `house.test.ts`, to be brought to nothing: more than is counted here fails. */
export const MOST_UNREACHED: Readonly<Record<string, number>> = {
  'src/check': 3,
  'src/geometry': 3,
  // All of the elastic model, which the holding does not call yet.
  'src/mechanics': 110,
  'src/part': 1,
  'src/paths': 2,
  'src/show': 4,
  'src/stock': 2,
  'src/trade': 24,
};

export const MOST_WITH_LONG_SIGNATURES: Readonly<Record<string, number>> = {
  'src/check': 14,
  'src/mechanics': 4,
  'src/part': 5,
  'src/paths': 8,
  'src/plan': 9,
  'src/show': 2,
  'src/trade': 2,
};

export const MOST_WITH_STATE: Readonly<Record<string, number>> = {
  'src/check': 1,
  'src/part': 2,
  'src/paths': 1,
  'src/plan': 2,
};

/** Names of types that stand in two or more files. */
export const SHARED_TYPE_NAMES: readonly string[] = `
  Bite Block CheckOptions Cut Entry Findings Finish Found Frame Gap Grid Ground Level Made Piece Place Refused Run
  RunOut Setting Span Spot Stretch Stroke Vertex Walk Way Where Wish
`
  .trim()
  .split(/\s+/);
