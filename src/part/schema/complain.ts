/** What the schema refused, told to a person: where, what was found, what was wanted, what to do. */
import * as z from 'zod';
import { fault, type Problem } from '../../base/problem.ts';
import { nearest } from '../../base/text.ts';
import { type KeyPath, type Located, spellPath } from './jsonc.ts';
import { jobSchema } from './schema.ts';
import { drawerFileSchema, machineFileSchema } from './schema-shop.ts';

type Issue = z.core.$ZodIssue;
type JsonSchema = Record<string, unknown>;

/** A file with more wrong than this is the wrong file. */
const MOST_TOLD = 40;

const MADE = new Map<keyof typeof SCHEMAS, JsonSchema>();

/** As JSON Schema the same definition says which keys a place takes, and what they mean. */
function keysOf(what: keyof typeof SCHEMAS): JsonSchema {
  const made = MADE.get(what) ?? (z.toJSONSchema(SCHEMAS[what](1), { io: 'input', target: 'draft-7' }) as JsonSchema);
  MADE.set(what, made);
  return made;
}

const SCHEMAS = { job: jobSchema, machine: machineFileSchema, drawer: drawerFileSchema } as const;

/** One problem an issue, at its line of the file. */
export function complainAbout(issues: readonly Issue[], from: Located, what: keyof typeof SCHEMAS): Problem[] {
  const jsonSchema = keysOf(what);
  const flat = withoutEchoes(
    issues.flatMap((i) => settle(i, i.path as KeyPath, from.value)),
    jsonSchema,
  );
  const problems = flat.slice(0, MOST_TOLD).flatMap(({ issue, path }) => tell(issue, path, from, jsonSchema));
  if (flat.length > MOST_TOLD) {
    problems.push(
      fault({
        code: 'more-problems',
        at: from.place([]),
        found: `${flat.length - MOST_TOLD} more of these`,
        wanted: 'a job file',
        remedy: 'mend the first ones, then run again',
      }),
    );
  }
  return problems;
}

interface Settled {
  readonly issue: Issue;
  readonly path: KeyPath;
}

/** A misspelt key is told once: not also as the missing key that it was meant to be. */
function withoutEchoes(flat: readonly Settled[], jsonSchema: JsonSchema): readonly Settled[] {
  const meant = new Set<string>();
  for (const { issue, path } of flat) {
    if (issue.code !== 'unrecognized_keys') continue;
    const known = keysAt(path, jsonSchema);
    for (const key of issue.keys) meant.add(spellPath([...path, nearest(key, known) ?? key]));
  }
  return flat.filter(({ issue, path }) => issue.code === 'unrecognized_keys' || !meant.has(spellPath(path)));
}

/** A union answers with the complaints of every branch: the branch that was meant is the one with the least wrong at its top. */
function settle(issue: Issue, path: KeyPath, value: unknown): Settled[] {
  if (issue.code !== 'invalid_union' || issue.errors.length === 0) return [{ issue, path }];
  const given = at(value, path);
  const isObject = typeof given === 'object' && given !== null;
  let best: readonly Issue[] | undefined;
  let bestCost = Infinity;
  for (const branch of issue.errors) {
    const cost = branch.reduce((sum, i) => sum + costOf(i, given), 0);
    if (cost < bestCost) {
      best = branch;
      bestCost = cost;
    }
  }
  // Nothing of the right shape: the whole list of shapes is the better answer.
  if (best === undefined || !isObject || bestCost >= 100) return [{ issue, path }];
  return best.flatMap((i) => settle(i, [...path, ...(i.path as KeyPath)], value));
}

function costOf(issue: Issue, given: unknown): number {
  if (issue.path.length === 0) return issue.code === 'unrecognized_keys' ? 3 * issue.keys.length : 100;
  const there = at(given, issue.path as KeyPath);
  if (issue.path.length === 1 && there === undefined) return 10;
  if (issue.code === 'invalid_value' && issue.path.length === 1) return 20;
  return 1;
}

function tell(issue: Issue, path: KeyPath, from: Located, jsonSchema: JsonSchema): Problem[] {
  if (issue.code === 'unrecognized_keys') return issue.keys.map((key) => unknownKey(key, path, from, jsonSchema));
  const value = at(from.value, path);
  const place = from.place(path);
  const key = typeof path.at(-1) === 'string' ? `\`${path.at(-1)}\`` : path.length === 0 ? 'the file' : 'this entry';
  if (value === undefined) {
    return [
      fault({
        code: 'missing-key',
        at: place,
        found: `${key} is missing`,
        wanted: wantedAt(path, jsonSchema),
        remedy: 'add it',
      }),
    ];
  }
  const found = `${key} is ${spell(value)}`;
  switch (issue.code) {
    case 'too_small':
      return [rangeProblem(found, leastWords(issue), entriesAt(path, jsonSchema), place)];
    case 'too_big':
      return [rangeProblem(found, mostWords(issue), entriesAt(path, jsonSchema), place)];
    case 'invalid_value':
      return [choiceProblem(found, value, issue.values.map(String), place)];
    case 'invalid_union': {
      const options = 'options' in issue && Array.isArray(issue.options) ? issue.options.map(String) : [];
      if (options.length > 0) return [choiceProblem(found, value, options, place)];
      return [
        fault({
          code: 'wrong-shape',
          at: place,
          found,
          wanted: wantedAt(path, jsonSchema),
          remedy: 'write one of these',
        }),
      ];
    }
    case 'invalid_type':
      if (typeof value === 'number' && !Number.isFinite(value)) {
        return [
          fault({
            code: 'json-number',
            at: place,
            found: `${key} is too large a number`,
            wanted: 'a number of ordinary size',
            remedy: 'write the number',
          }),
        ];
      }
      return [
        fault({
          code: 'wrong-type',
          at: place,
          found,
          wanted: typeWords(issue.expected, path, jsonSchema),
          remedy: 'write it so',
        }),
      ];
    default:
      return [fault({ code: 'wrong-value', at: place, found, wanted: issue.message, remedy: 'mend it' })];
  }
}

function unknownKey(key: string, path: KeyPath, from: Located, jsonSchema: JsonSchema): Problem {
  const known = keysAt(path, jsonSchema);
  const near = nearest(key, known);
  const wanted = near === undefined ? `one of: ${known.join(', ')}` : `a known key; the nearest is \`${near}\``;
  const remedy = near === undefined ? 'take it away' : `write \`${near}\`, or take it away`;
  return fault({
    code: 'unknown-key',
    at: from.keyPlace([...path, key]),
    found: `unknown key \`${key}\``,
    wanted,
    remedy,
  });
}

/** A list of fixed length is told entry by entry: its number of entries alone says nothing of what is missing. */
function rangeProblem(found: string, range: string, entries: string | undefined, place: Problem['place']): Problem {
  if (entries !== undefined)
    return fault({ code: 'out-of-range', at: place, found, wanted: entries, remedy: 'write it so' });
  return fault({ code: 'out-of-range', at: place, found, wanted: range, remedy: 'write a value in that range' });
}

/** `[along x, along y, along z]`, where a list of fixed length stands; undefined elsewhere. */
function entriesAt(path: KeyPath, jsonSchema: JsonSchema): string | undefined {
  const lists = nodesAt(path, jsonSchema).filter((n) => Array.isArray(n['items']));
  return lists.length === 0 ? undefined : [...new Set(lists.map(formOf))].join(', or ');
}

function choiceProblem(found: string, value: unknown, options: readonly string[], place: Problem['place']): Problem {
  const near = typeof value === 'string' ? nearest(value, options) : undefined;
  const remedy = near === undefined ? 'write one of these' : `write "${near}"`;
  return fault({ code: 'unknown-choice', at: place, found, wanted: `one of: ${options.join(', ')}`, remedy });
}

/** Every key that some shape at this path takes. */
function keysAt(path: KeyPath, jsonSchema: JsonSchema): string[] {
  const keys = nodesAt(path, jsonSchema).flatMap((n) => Object.keys((n['properties'] as object | undefined) ?? {}));
  return [...new Set(keys)];
}

function nodesAt(path: KeyPath, root: JsonSchema): JsonSchema[] {
  let nodes = shapes(root);
  for (const step of path) {
    nodes = nodes.flatMap((n) => {
      if (typeof step === 'string') return shapes((n['properties'] as Record<string, JsonSchema> | undefined)?.[step]);
      const items = n['items'] as JsonSchema | JsonSchema[] | undefined;
      return shapes(Array.isArray(items) ? items[step] : items);
    });
  }
  return nodes;
}

function shapes(node: JsonSchema | undefined): JsonSchema[] {
  if (node === undefined) return [];
  const branches = [...((node['anyOf'] as JsonSchema[]) ?? []), ...((node['oneOf'] as JsonSchema[]) ?? [])];
  return branches.length > 0 ? branches.flatMap(shapes) : [node];
}

function wantedAt(path: KeyPath, jsonSchema: JsonSchema): string {
  const nodes = nodesAt(path, jsonSchema);
  const forms = [...new Set(nodes.map(formOf))];
  return forms.length === 0 ? 'a value' : forms.join(', or ');
}

function formOf(node: JsonSchema): string {
  const described = typeof node['description'] === 'string' ? ` (${node['description']})` : '';
  if ('const' in node) return JSON.stringify(node['const']);
  if (Array.isArray(node['enum'])) return `one of ${(node['enum'] as unknown[]).join(', ')}`;
  if (node['type'] === 'object') {
    const required = (node['required'] as string[] | undefined) ?? [];
    const properties = (node['properties'] ?? {}) as Record<string, JsonSchema>;
    return `{ ${required.map((k) => `"${k}": ${fixedText(properties[k])}`).join(', ')} }${described}`;
  }
  if (node['type'] === 'array') return `${listForm(node['items'])}${described}`;
  return `${TYPE_NAMES[String(node['type'])] ?? 'a value'}${described}`;
}

/** The word that a key must have there, if it can be no other. */
function fixedText(node: JsonSchema | undefined): string {
  return node !== undefined && 'const' in node ? JSON.stringify(node['const']) : '...';
}

function listForm(items: unknown): string {
  if (!Array.isArray(items)) return 'a list';
  const names = (items as JsonSchema[]).map((i) => String(i['description'] ?? '...').replace(/[:;,].*/, ''));
  return `a list of ${items.length}: [${names.join(', ')}]`;
}

const TYPE_NAMES: Readonly<Record<string, string>> = {
  number: 'a number',
  integer: 'a whole number',
  int: 'a whole number',
  string: 'text in quotes',
  boolean: 'true or false',
  object: 'an object { ... }',
  array: 'a list [ ... ]',
  tuple: 'a list [ ... ]',
};

function typeWords(expected: string, path: KeyPath, jsonSchema: JsonSchema): string {
  const nodes = nodesAt(path, jsonSchema);
  return nodes.length > 0 && expected !== 'int' ? wantedAt(path, jsonSchema) : (TYPE_NAMES[expected] ?? expected);
}

function leastWords(issue: Extract<Issue, { code: 'too_small' }>): string {
  if (issue.origin === 'array') return `at least ${issue.minimum} entries`;
  if (issue.origin === 'string') return 'some text';
  return issue.inclusive ? `${issue.minimum} or more` : `more than ${issue.minimum}`;
}

function mostWords(issue: Extract<Issue, { code: 'too_big' }>): string {
  if (issue.origin === 'array') return `at most ${issue.maximum} entries`;
  if (issue.origin === 'string') return `at most ${issue.maximum} letters`;
  return issue.inclusive ? `${issue.maximum} or less` : `less than ${issue.maximum}`;
}

function spell(value: unknown): string {
  if (value === null) return 'null';
  if (Array.isArray(value)) return `a list of ${value.length}`;
  if (typeof value === 'object') return 'an object';
  const text = JSON.stringify(value) ?? String(value);
  return text.length > 60 ? `${text.slice(0, 57)}...` : text;
}

function at(value: unknown, path: KeyPath): unknown {
  let here = value;
  for (const step of path) {
    if (typeof here !== 'object' || here === null || !Object.hasOwn(here, step)) return undefined;
    here = (here as Record<string | number, unknown>)[step];
  }
  return here;
}
