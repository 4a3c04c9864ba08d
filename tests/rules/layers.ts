/**
 * Which place may import which (the data flow). A place not listed is an error; a place may always import itself.
 * Prefixes match whole folders; a name ending in `.ts` matches that file alone. npm packages stand as bare names.
 */
export const LAYERS: Readonly<Record<string, readonly string[]>> = {
  'src/base': [],
  'src/geometry/measure': ['src/base', 'src/geometry/types.ts', 'flatbush', 'robust-predicates'],
  'src/geometry': ['src/base', 'clipper-lib', 'flatbush', 'robust-predicates'],
  'src/trade': ['src/base'],
  'src/mechanics': ['src/base', 'src/trade'],
  // Numbers in, numbers out: it knows no material and no tool.
  'src/mechanics/elastic': ['src/base', 'src/mechanics/math', 'robust-predicates'],
  'src/part': ['src/base', 'src/geometry', 'src/trade', 'zod', 'jsonc-parser', 'saxes', 'svg-pathdata'],
  'src/plan': ['src/base', 'src/geometry', 'src/trade', 'src/mechanics', 'src/part/part.ts', 'src/part/placed.ts'],
  'src/hold': [
    'src/base',
    'src/geometry',
    'src/trade',
    'src/mechanics',
    'src/part/part.ts',
    'src/part/placed.ts',
    'src/plan/plan.ts',
  ],
  'src/paths': [
    'src/base',
    'src/geometry',
    'src/part/part.ts',
    'src/part/placed.ts',
    'src/plan/plan.ts',
    'src/hold/holding.ts',
  ],
  'src/write': ['src/base', 'src/paths/moves.ts', 'zod'],
  'src/course': [
    'src/base',
    'src/geometry',
    'src/trade',
    'src/mechanics',
    'src/part/part.ts',
    'src/part/placed.ts',
    'src/plan/plan.ts',
    'src/hold/holding.ts',
    'src/paths/moves.ts',
    'src/write/program.ts',
  ],
  // The height field and what a cutter takes out of it: for the check and for the page.
  'src/stock': ['src/base', 'src/geometry/measure', 'src/geometry/types.ts', 'src/part/part.ts'],
  // Shares nothing with what it checks: no plan, paths, write, course, mechanics, nor the offset engine.
  'src/check': [
    'src/base',
    'src/geometry/measure',
    'src/geometry/types.ts',
    'src/trade',
    'src/stock',
    'src/part/part.ts',
    'src/hold/holding.ts',
  ],
  'src/show/page': [
    'src/base',
    'src/geometry',
    'src/show/markup',
    'src/show/jaws.ts',
    // For the cautions, which page and sheet say alike.
    'src/trade/cautions.ts',
    'src/trade/materials/materials.ts',
    'src/part/part.ts',
    'src/part/placed.ts',
    'src/plan/plan.ts',
    'src/hold/holding.ts',
    'src/paths/moves.ts',
    'src/write/program.ts',
    'src/course/course.ts',
    'src/check/report.ts',
    'src/stock',
    'src/job.ts',
    'three',
  ],
  'src/show': [
    'src/base',
    'src/geometry/measure',
    'src/geometry/types.ts',
    'src/trade',
    'src/part/part.ts',
    'src/part/placed.ts',
    'src/plan/plan.ts',
    'src/hold/holding.ts',
    'src/paths/moves.ts',
    'src/write/program.ts',
    'src/course/course.ts',
    'src/check/report.ts',
  ],
  // The only place where stages meet.
  'src/session': [
    'src/base',
    'src/geometry/types.ts',
    'src/part',
    'src/plan',
    'src/hold',
    'src/paths',
    'src/write',
    'src/course',
    'src/check',
  ],
  'src/job.ts': ['src/base', 'src/part', 'src/hold/holding.ts', 'src/check', 'src/session'],
  // What the command does with files and console, as functions.
  'src/library': ['src/base', 'src/check/report.ts', 'src/job.ts', 'src/session', 'src/show'],
  'src/index.ts': ['src'],
  'src/cli': [
    'src/base',
    'src/geometry/measure',
    'src/job.ts',
    'src/show',
    'src/part/part.ts',
    'src/plan/plan.ts',
    'src/hold/holding.ts',
    'src/write/program.ts',
    'src/course/course.ts',
    'src/check/report.ts',
    'package.json',
    'node:',
    'commander',
    'gcode-parser',
  ],
};

export const MOST_LINES = 400;
export const MEDIAN_LINES = 150;

/**
 * The rooms of a folder in their order: a room may import those before it, never those after it. Files that stand in the
 * folder itself are its contract, its limits and what joins the rooms: they are open to all.
 */
export const ROOMS: Readonly<Record<string, readonly string[]>> = {
  'src/geometry': ['measure', 'offset'],
  'src/trade': ['materials', 'threads'],
  'src/mechanics': ['math', 'cutting', 'support', 'plate', 'elastic', 'held'],
  'src/part': ['schema', 'drawing', 'setting'],
  'src/part/drawing': ['curve', 'dxf', 'svg', 'heal'],
  'src/plan': ['milling', 'profile', 'holes', 'openings', 'edge'],
  'src/hold': ['scene', 'evaluate', 'search', 'words', 'ways'],
  'src/paths': ['along', 'travel', 'clear', 'profile'],
  'src/check': ['language', 'report', 'strokes', 'wanted', 'program', 'field', 'tabs', 'strength', 'held', 'exact'],
  'src/check/language': ['text', 'machine'],
  'src/show': ['markup', 'drawing', 'page', 'sheet'],
  'src/show/sheet': ['drawing', 'tables', 'by-hand'],
  'src/show/page': ['data', 'worker', 'app'],
  'src/cli': ['commands'],
};

export const MOST_FILES = 20;
