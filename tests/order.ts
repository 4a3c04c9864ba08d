/** Order of the test files: the longest first, so that the workers end together. A fresh clone knows no durations and would go by size. */
import { BaseSequencer, type TestSpecification } from 'vitest/node';

/** Over five seconds each, longest first; what is not named comes after them. */
const LONGEST = [
  ...['laws/levers', 'spoiled/spoiled', 'show/page/browser', 'show/page/samples', 'laws/jobs', 'hold/choose'],
  ...['cli/check', 'cli/make', 'golden', 'show/print/print', 'laws/drawing-round-trip', 'geometry/offset-random'],
  ...['paths/pocket', 'cli/bad-input', 'spoiled/broken', 'check/field/field', 'show/sheet/sheet'],
];

export class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const rank = ({ moduleId }: TestSpecification) => {
      const at = LONGEST.findIndex((name) => moduleId.endsWith(`/tests/${name}.test.ts`));
      return at < 0 ? LONGEST.length : at;
    };
    return (await super.sort(files)).sort((a, b) => rank(a) - rank(b));
  }
}
