/**
 * The rules of a program's text, on the bare text: nothing of the writer or the check is used. Each broken rule is told with
 * its line. What the words mean on the work is not judged here.
 */
export interface TextFacts {
  readonly units: 'mm' | 'inch';
  readonly decimals: number;
  readonly feedDecimals: number;
  readonly arcs: boolean;
  readonly cycles: boolean;
  readonly changes: boolean;
  readonly coolant: 'none' | 'mist' | 'flood';
}

/** Facts of the head may pass 80 characters (they are read back whole), but no line of the language 256 (NISTIR 6556, 3.3). */
const FACT = /^\((ZERO|STOCK|PART|CUTTER|HOLD|TAB|SCREWS|CLAMP) /;
const NUMBER = '(0|-?[1-9]\\d*|-?(0|[1-9]\\d*)\\.\\d*[1-9])';
const CODE_LINE = new RegExp(`^[A-Z]${NUMBER}( [A-Z]${NUMBER})*$`);
const FORBIDDEN =
  /\b(N\d+|G(10|28|30|41|42|53|55|56|57|58|59(\.\d)?|64|91(\.\d)?|92(\.\d)?|93|43\.1)|M(1|30|60|98|99))\b/;
const START = ['G17', 'G40', 'G49', 'G54', 'G80', 'G90', 'G94', 'G98', 'G61'];

export function textFaults(text: string, facts: TextFacts): string[] {
  const out: string[] = [];
  const lines = text.split('\n');
  if (lines.pop() !== '') out.push('no newline at the end');
  if (/[^\n -~]/.test(text)) out.push('a character outside printable ASCII');
  if (lines[0] !== '%' || lines.at(-1) !== '%' || lines.at(-2) !== 'M2') out.push('no % frame with M2 before its end');
  const body = lines.slice(1, -1);
  out.push(...body.flatMap((line, i) => lineFaults(line, facts).map((f) => `${i + 2}: ${f}: ${line}`)));
  const code = body.map((line, i) => ({ line, block: i + 2 })).filter((l) => !/^\((?!Operation )/.test(l.line));
  out.push(...startFaults(code[0]?.line ?? '', facts), ...orderFaults(code));
  return out;
}

function lineFaults(line: string, facts: TextFacts): string[] {
  if (line.startsWith('(')) {
    const longest = FACT.test(line) ? 256 : 80;
    return /^\([^()]+\)$/.test(line) && line.length <= longest ? [] : ['a bad comment'];
  }
  const out: string[] = [];
  if (!CODE_LINE.test(line)) out.push('spelling');
  if (FORBIDDEN.test(line)) out.push('a code that must not be written');
  const words = line.split(' ');
  const has = (w: string) => words.includes(w);
  const arc = has('G2') || has('G3');
  const cycle = words.some((w) => /^G8[1-9]$/.test(w));
  if (arc && (!facts.arcs || words.some((w) => w.startsWith('R')) || !/ I\S+ J/.test(line))) out.push('an arc');
  if (cycle && !facts.cycles) out.push('a cycle');
  if (has('M6') && (!facts.changes || !/^T\d+ M6$/.test(line))) out.push('a cutter change');
  if (has('M7') && facts.coolant !== 'mist') out.push('mist');
  if (has('M8') && facts.coolant !== 'flood') out.push('flood');
  if (has('M2') && line !== 'M2') out.push('M2 not alone');
  for (const w of words) {
    const decimals = w.split('.')[1]?.length ?? 0;
    const room = /^[XYZIJRQ]/.test(w) ? facts.decimals : /^F/.test(w) ? facts.feedDecimals : 2;
    if (decimals > room) out.push(`too many decimals in ${w}`);
  }
  return out;
}

function startFaults(line: string, facts: TextFacts): string[] {
  const words = line.split(' ');
  const wanted = [...START, facts.units === 'mm' ? 'G21' : 'G20'];
  return wanted.filter((w) => !words.includes(w)).map((w) => `the first block does not state ${w}`);
}

/** What must come before what: safe starts after each point where the position is unknown, safe stops before each stop. */
function orderFaults(code: readonly { readonly line: string; readonly block: number }[]): string[] {
  const out: string[] = [];
  let known: 'nothing' | 'z' | 'all' = 'nothing';
  let speed = false;
  let turning = false;
  let feed = false;
  let z = Number.NEGATIVE_INFINITY;
  let moved = false;
  /** Highest Z of the program so far: where the last retract before a stop must stand, or higher. */
  let clearance = Number.NEGATIVE_INFINITY;
  for (const { line, block } of code) {
    const tell = (what: string) => out.push(`${block}: ${what}: ${line}`);
    if (line.startsWith('(Operation ')) {
      known = 'nothing';
      feed = false;
      continue;
    }
    if (/\bM3\b/.test(line)) {
      turning = true;
      speed = /\bS\d/.test(line);
      if (!speed) tell('M3 without S on its line');
    }
    if (line === 'M5') turning = false;
    if (/\bF/.test(line)) feed = true;
    if (/\bM(0|2|6)\b/.test(line)) {
      if (turning) tell('a stop with the spindle turning');
      if (moved && z < clearance) tell('a stop with the cutter down');
      [known, feed, speed, moved] = ['nothing', false, false, false];
    }
    if (!/^G(0|1|2|3|98) /.test(line) && !/^[XY]/.test(line)) continue;
    const to = /\bZ(\S+)/.exec(line);
    const cutting = !line.startsWith('G0 ');
    if (known === 'nothing' && !/^G0 Z\S+$/.test(line)) tell('the first move is not Z alone');
    if (known === 'z' && !/^G0 X\S+ Y\S+$/.test(line)) tell('the second move is not X Y');
    if (cutting && !(turning && speed)) tell('a cut before S and M3');
    if (cutting && !feed) tell('a cut before F');
    if (known === 'nothing' && to) clearance = Math.max(clearance, Number(to[1]));
    if (to && !/^G98 /.test(line)) z = Number(to[1]);
    known = known === 'nothing' ? 'z' : 'all';
    moved = true;
  }
  return out;
}
