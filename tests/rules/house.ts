/** What still breaks a rule of `house.test.ts`, to be brought to nothing: more than is counted here fails. */
export const MOST_UNREACHED: Readonly<Record<string, number>> = {
  'src/check': 3,
  'src/mechanics': 103,
  'src/show': 3,
  'src/stock': 2,
  'src/trade': 2,
};

export const MOST_WITH_LONG_SIGNATURES: Readonly<Record<string, number>> = {
  'src/check': 14,
  'src/mechanics': 4,
  'src/part': 5,
  'src/paths': 7,
  'src/plan': 4,
  'src/show': 1,
  'src/trade': 2,
};

export const MOST_WITH_STATE: Readonly<Record<string, number>> = {
  'src/check': 1,
  'src/part': 2,
};

/** Names of types that stand in two or more files. */
export const SHARED_TYPE_NAMES: readonly string[] = `
  Place
`
  .trim()
  .split(/\s+/);
